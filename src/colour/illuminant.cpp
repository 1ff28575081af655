#include "fadewright/colour/illuminant.h"

#include "cie_tables.h"
#include "fadewright/base/contract.h"

#include <algorithm>
#include <array>
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

// Grid of the reflectance during the calculation: all bands of the visible range, combined into ours at the
// end.
constexpr double kGridFirst_nm = 360, kGridLast_nm = 830, kGridStep_nm = 10;
constexpr std::size_t kGridCount = 48;

ColourMatchingFunctions matching_table(std::string_view file) {
    auto columns = cie_table_columns(file);
    return {std::move(columns[0]), std::move(columns[1]), std::move(columns[2]), std::move(columns[3])};
}

double interpolate_linear(const std::vector<double>& wavelengths, const std::vector<double>& values,
                          double nm) {
    if (nm < wavelengths.front() || nm > wavelengths.back()) return 0;
    const auto above = std::lower_bound(wavelengths.begin() + 1, wavelengths.end() - 1, nm);
    const auto i = static_cast<std::size_t>(above - wavelengths.begin());
    const double t = (nm - wavelengths[i - 1]) / (wavelengths[i] - wavelengths[i - 1]);
    return values[i - 1] + t * (values[i] - values[i - 1]);
}

// Interpolation weights of the grid's reflectances at nm: cubic inside, quadratic in the end intervals.
struct LagrangeShares {
    std::size_t start = 0;
    std::array<double, 4> share{};
    std::size_t count = 0;
};

LagrangeShares grid_shares(double nm) {
    const double position = (nm - kGridFirst_nm) / kGridStep_nm;
    const auto interval =
        static_cast<std::size_t>(std::clamp(std::floor(position), 0.0, double(kGridCount - 2)));
    LagrangeShares shares;
    shares.count = interval == 0 || interval == kGridCount - 2 ? 3 : 4;
    shares.start = interval == 0 ? 0 : interval == kGridCount - 2 ? kGridCount - 3 : interval - 1;
    for (std::size_t i = 0; i < shares.count; ++i) {
        shares.share[i] = 1;
        for (std::size_t j = 0; j < shares.count; ++j)
            if (j != i)
                shares.share[i] *= (position - static_cast<double>(shares.start + j)) /
                                   (static_cast<double>(i) - static_cast<double>(j));
    }
    return shares;
}

using PaddedWeights = std::array<std::array<double, 3>, kGridCount>;

void add_wavelength(double nm, double power, const ColourMatchingFunctions& observer_cmf,
                    PaddedWeights& grid) {
    const std::array<double, 3> cmf{lagrange(observer_cmf.wavelengths_nm, observer_cmf.x, nm, 6),
                                    lagrange(observer_cmf.wavelengths_nm, observer_cmf.y, nm, 6),
                                    lagrange(observer_cmf.wavelengths_nm, observer_cmf.z, nm, 6)};
    const LagrangeShares shares = grid_shares(nm);
    for (std::size_t i = 0; i < shares.count; ++i)
        for (std::size_t c = 0; c < 3; ++c) grid[shares.start + i][c] += shares.share[i] * power * cmf[c];
}

TristimulusWeights fold_to_bands(const PaddedWeights& grid) {
    TristimulusWeights out;
    for (std::size_t g = 0; g < kGridCount; ++g) {
        const double band =
            (kGridFirst_nm + kGridStep_nm * static_cast<double>(g) - kFirstBand_nm) / kBandStep_nm;
        const auto b = static_cast<std::size_t>(std::clamp(band, 0.0, double(kBandCount - 1)));
        for (std::size_t c = 0; c < 3; ++c) out.w[b][c] += grid[g][c];
    }
    double Y = 0;
    for (const auto& w : out.w) Y += w[1];
    FW_EXPECTS(Y > 0);
    std::array<double, 3> white{};
    for (auto& w : out.w)
        for (std::size_t c = 0; c < 3; ++c) {
            w[c] *= 100 / Y;
            white[c] += w[c];
        }
    out.white = {white[0], white[1], white[2]};
    return out;
}

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

// Weights by interpolating the reflectance. Source: [astmE2022].

const ColourMatchingFunctions& colour_matching_functions(Observer observer) {
    static const ColourMatchingFunctions two_degree_table = matching_table("observer_2.csv");
    static const ColourMatchingFunctions ten_degree_table = matching_table("observer_10.csv");
    return observer == Observer::two_degree ? two_degree_table : ten_degree_table;
}

TristimulusWeights tristimulus_weights(const Illuminant& light, Observer observer) {
    const ColourMatchingFunctions& observer_cmf = colour_matching_functions(observer);
    PaddedWeights grid{};
    if (light.narrow_band || light.wavelengths_nm.size() < 2) {
        for (std::size_t i = 0; i < light.wavelengths_nm.size(); ++i) {
            const double nm = light.wavelengths_nm[i];
            if (nm >= kGridFirst_nm && nm <= kGridLast_nm)
                add_wavelength(nm, light.power[i], observer_cmf, grid);
        }
    } else {
        for (double nm = kGridFirst_nm; nm <= kGridLast_nm; nm += 1)
            add_wavelength(nm, interpolate_linear(light.wavelengths_nm, light.power, nm), observer_cmf, grid);
    }
    return fold_to_bands(grid);
}

}  // namespace fadewright::colour
