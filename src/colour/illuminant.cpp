#include "fadewright/colour/illuminant.h"

#include "cie_tables.h"
#include "fadewright/base/contract.h"
#include "lagrange.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace fadewright::colour {
namespace {

Illuminant illuminant_from_table(std::string_view id, std::string_view title, std::string_view file,
                                 bool lines) {
    auto columns = cie_table_columns(file);
    return {std::string(id), std::string(title), std::move(columns[0]), std::move(columns[1]), lines};
}

// A smooth table at 1 nm, by quintic interpolation of its 5 nm values. The published whites of C and of the
// daylight illuminants belong to the smooth curve; linear interpolation is off by up to 0.07 in Z.
Illuminant interpolate_to_1_nm(const Illuminant& light) {
    Illuminant fine{light.id, light.title, {}, {}, false};
    for (double nm = light.wavelengths_nm.front(); nm <= light.wavelengths_nm.back(); nm += 1) {
        fine.wavelengths_nm.push_back(nm);
        fine.power.push_back(lagrange(light.wavelengths_nm, light.power, nm, 6));
    }
    return fine;
}

// Colour temperature to daylight chromaticity, then to the shares of S1 and S2 (three decimals, as the
// published illuminants use them). The constant of Planck's law has been revised, so "5000 K" is 5003 K
// today. Source: [cie15].
Illuminant daylight(std::string_view id, std::string_view title, double nominal_kelvin) {
    const double T = nominal_kelvin * 1.4388 / 1.4380;
    const double x = T <= 7000 ? -4.6070e9 / (T * T * T) + 2.9678e6 / (T * T) + 0.09911e3 / T + 0.244063
                               : -2.0064e9 / (T * T * T) + 1.9018e6 / (T * T) + 0.24748e3 / T + 0.237040;
    const double y = -3.000 * x * x + 2.870 * x - 0.275;
    const double M = 0.0241 + 0.2562 * x - 0.7341 * y;
    const auto rounded = [](double v) { return std::round(v * 1000) / 1000; };
    const double M1 = rounded((-1.3515 - 1.7703 * x + 5.9114 * y) / M);
    const double M2 = rounded((0.0300 - 31.4424 * x + 30.0717 * y) / M);
    auto columns = cie_table_columns("daylight.csv");
    std::vector<double> power(columns[0].size());
    for (std::size_t i = 0; i < power.size(); ++i)
        power[i] = columns[1][i] + M1 * columns[2][i] + M2 * columns[3][i];
    return interpolate_to_1_nm(
        {std::string(id), std::string(title), std::move(columns[0]), std::move(power), false});
}

// Illuminant A, by its formula. Source: [iso11664-2], [cie15].
Illuminant incandescent() {
    constexpr double kC2 = 1.435e7, kT = 2848;  // nm K, K
    Illuminant light{"A", "CIE standard illuminant A, incandescent", {}, {}, false};
    for (double nm = 360; nm <= 830; nm += 1) {
        light.wavelengths_nm.push_back(nm);
        light.power.push_back(100 * std::pow(560 / nm, 5) * std::expm1(kC2 / (kT * 560)) /
                              std::expm1(kC2 / (kT * nm)));
    }
    return light;
}

// Own model of a white LED: a narrow blue peak and a phosphor with a longer tail to the red; their heights
// put the white on the Planckian locus at 4000 K.
Illuminant white_led() {
    Illuminant light{"LED", "White LED, modelled", {}, {}, false};
    for (double nm = 360; nm <= 830; nm += 1) {
        const auto gaussian = [nm](double centre, double width) {
            return std::exp(-0.5 * ((nm - centre) / width) * ((nm - centre) / width));
        };
        light.wavelengths_nm.push_back(nm);
        light.power.push_back(1.12 * gaussian(451, 9.5) + gaussian(573, nm < 573 ? 46 : 62));
    }
    return light;
}

Illuminant make_illuminant(StandardIlluminant light) {
    switch (light) {
        case StandardIlluminant::D65:
            return illuminant_from_table("D65", "CIE standard illuminant D65, daylight", "light_D65.csv",
                                         false);
        case StandardIlluminant::D50:
            return daylight("D50", "CIE illuminant D50, warm daylight", 5000);
        case StandardIlluminant::A:
            return incandescent();
        case StandardIlluminant::F2:
            return illuminant_from_table("F2", "CIE illuminant F2, cool white fluorescent", "light_F2.csv",
                                         true);
        case StandardIlluminant::F11:
            return illuminant_from_table("F11", "CIE illuminant F11, triphosphor fluorescent",
                                         "light_F11.csv", true);
        case StandardIlluminant::LED:
            return white_led();
        case StandardIlluminant::C:
            return interpolate_to_1_nm(
                illuminant_from_table("C", "CIE illuminant C, former daylight", "light_C.csv", false));
        case StandardIlluminant::D55:
            return daylight("D55", "CIE illuminant D55, midday daylight", 5500);
        case StandardIlluminant::D75:
            return daylight("D75", "CIE illuminant D75, north daylight", 7500);
        case StandardIlluminant::F7:
            break;
    }
    return illuminant_from_table("F7", "CIE illuminant F7, daylight fluorescent", "light_F7.csv", true);
}

constexpr StandardIlluminant kAll[] = {
    StandardIlluminant::D65, StandardIlluminant::D50, StandardIlluminant::A, StandardIlluminant::F2,
    StandardIlluminant::F11, StandardIlluminant::LED, StandardIlluminant::C, StandardIlluminant::D55,
    StandardIlluminant::D75, StandardIlluminant::F7};

}  // namespace

const Illuminant* standard_illuminant(std::string_view id) {
    for (const StandardIlluminant kind : kAll)
        if (const Illuminant& light = standard_illuminant(kind); light.id == id) return &light;
    return nullptr;
}

const Illuminant& standard_illuminant(StandardIlluminant light) {
    static const std::map<StandardIlluminant, Illuminant> lights = [] {
        std::map<StandardIlluminant, Illuminant> all;
        for (const StandardIlluminant kind : kAll) all.emplace(kind, make_illuminant(kind));
        return all;
    }();
    return lights.at(light);
}

XYZ to_xyz(const Reflectance& reflectance, const TristimulusWeights& weights) noexcept {
    XYZ xyz;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        xyz.X += weights.w[band][0] * reflectance[band];
        xyz.Y += weights.w[band][1] * reflectance[band];
        xyz.Z += weights.w[band][2] * reflectance[band];
    }
    return xyz;
}

}  // namespace fadewright::colour
