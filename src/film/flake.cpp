#include "fadewright/film/flake.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/film/flake_materials.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <span>

namespace fadewright::film {
namespace {

using colour::band_nm;
using colour::kBandCount;
using paint::FlakeKind;
using paint::FlakeOpticsTable;
using paint::kFlakeTableSize;
using Complex = std::complex<double>;

constexpr double kMaxCoreSpread = 1.0 / 3;   // spread over thickness
constexpr double kMaxOxideSpread = 1.0 / 4;  // keeps the outermost node above 0
constexpr double kMinTerm = 1e-14;

// Seven nodes of Gauss-Hermite quadrature, in standard deviations (Source: [olver2010] 3.5(v); the
// weights add up to 1).
struct GaussNode {
    double deviations, weight;
};
constexpr std::array<GaussNode, 7> kGaussNodes{{{-3.750439717725742, 0.000548268855972217},
                                                {-2.366759410734541, 0.030757123967586498},
                                                {-1.154405394739968, 0.240123178605012713},
                                                {0, 0.457142857142857143},
                                                {1.154405394739968, 0.240123178605012713},
                                                {2.366759410734541, 0.030757123967586498},
                                                {3.750439717725742, 0.000548268855972217}}};
constexpr std::size_t kMiddleNode = kGaussNodes.size() / 2;

FlakeMaterial core_of(FlakeKind kind) noexcept {
    switch (kind) {
        case FlakeKind::titania_on_alumina:
            return FlakeMaterial::alumina;
        case FlakeKind::aluminium:
            return FlakeMaterial::aluminium;
        case FlakeKind::titania_on_mica:
        case FlakeKind::iron_oxide_on_mica:
        case FlakeKind::titania_on_iron_oxide_on_mica:
            break;
    }
    return FlakeMaterial::mica;
}

FlakeMaterial oxide_of(const FlakeStructure& structure) noexcept {
    if (structure.kind == FlakeKind::iron_oxide_on_mica) return FlakeMaterial::hematite;
    return structure.crystal == paint::Titania::rutile ? FlakeMaterial::rutile : FlakeMaterial::anatase;
}

double oxide_nm(const FlakeStructure& structure) noexcept {
    return structure.kind == FlakeKind::aluminium ? 0 : std::max(0.0, structure.oxide.value);
}

double iron_oxide_nm(const FlakeStructure& structure) noexcept {
    return structure.kind == FlakeKind::titania_on_iron_oxide_on_mica
               ? std::max(0.0, structure.iron_oxide.value)
               : 0;
}

// Indices of one flake in one band.
struct Indices {
    OpticalIndex oxide, iron_oxide, core;
};

Indices indices(const FlakeStructure& structure, std::size_t band, double binder) {
    return {porous_index(index_of(oxide_of(structure))[band], binder, structure.porosity),
            porous_index(index_of(FlakeMaterial::hematite)[band], binder, structure.porosity),
            index_of(core_of(structure.kind))[band]};
}

// Means of the powers of z over the cores. With a spread, only the first few contribute.
constexpr int kMaxTerms = 2000;
constexpr std::size_t kCachedPowers = 16;

struct CorePhase {
    double delta = 0;
    double deviation = 0;
    int terms = kMaxTerms;
    std::array<Complex, kCachedPowers> cached;

    CorePhase(double phase, double spread) noexcept : delta(phase), deviation(spread) {
        const double last = std::sqrt(-2 * std::log(kMinTerm));
        if (spread * kMaxTerms > last) terms = static_cast<int>(last / spread) + 1;
        for (std::size_t m = 0; m < kCachedPowers; ++m) cached[m] = compute(static_cast<int>(m));
    }
    [[nodiscard]] Complex compute(int m) const noexcept {
        return std::polar(std::exp(-0.5 * m * m * deviation * deviation), -m * delta);
    }
    [[nodiscard]] Complex mean(int m) const noexcept {
        const auto at = static_cast<std::size_t>(m);
        return at < kCachedPowers ? cached[at] : compute(m);
    }
};

double product_real_part(Complex a, Complex b) noexcept { return a.real() * b.real() - a.imag() * b.imag(); }

RT mean_over_cores(const CoatingAmplitudes& coat, const CorePhase& core) noexcept {
    const Complex rho = coat.back * coat.back;
    const Complex B = coat.back * (coat.through - coat.front * coat.back);
    if (core.deviation == 0) {
        const double denominator = std::norm(1.0 - rho * core.cached[1]);
        return {std::norm(coat.front + B * core.cached[1]) / denominator,
                std::norm(coat.through) / denominator};
    }
    // Means of 1/|1 - rho z|^2 and of z/|1 - rho z|^2, both times 1 - |rho|^2.
    const double size = std::abs(rho);
    double plain = 1;
    Complex with_z = core.mean(1);
    Complex power = 1;
    double remaining = 1;
    for (int m = 1; m <= core.terms + 1 && remaining > kMinTerm; ++m) {
        power *= rho;
        remaining *= size;
        plain += 2 * product_real_part(power, core.mean(m));
        with_z += power * core.mean(m + 1) + std::conj(power * core.mean(m - 1));
    }
    const double scale = 1 - size * size;
    return {((std::norm(coat.front) + std::norm(B)) * plain +
             2 * product_real_part(std::conj(coat.front) * B, with_z)) /
                scale,
            std::norm(coat.through) * plain / scale};
}

// Mean over the oxide and both polarisations, cores averaged in closed form.
RT pearl_rt(const FlakeStructure& structure, const Indices& index, double binder, double cos_in,
            Nanometres wavelength, double core_deviation, double oxide_deviation) {
    const double n_sin = binder * std::sqrt(1 - cos_in * cos_in);
    const double n_core = index.core.n;
    const double phase = 4 * std::numbers::pi * std::sqrt(n_core * n_core - n_sin * n_sin) / wavelength.value;
    const CorePhase core{phase * structure.core.value, phase * core_deviation};
    RT sum;
    for (std::size_t i = 0; i < kGaussNodes.size(); ++i) {
        if (oxide_deviation == 0 && i != kMiddleNode) continue;
        const double weight = oxide_deviation == 0 ? 1 : kGaussNodes[i].weight;
        const std::array<ThinLayer, 2> coats{
            {{index.oxide, Nanometres{oxide_nm(structure) + kGaussNodes[i].deviations * oxide_deviation}},
             {index.iron_oxide, Nanometres{iron_oxide_nm(structure)}}}};
        const auto layers = std::span(coats).first(iron_oxide_nm(structure) > 0 ? 2 : 1);
        for (const Polarisation polarisation : {Polarisation::s, Polarisation::p}) {
            const RT rt =
                mean_over_cores(coating(binder, layers, n_core, cos_in, wavelength, polarisation), core);
            sum.R += weight / 2 * rt.R;
            sum.T += weight / 2 * rt.T;
        }
    }
    return sum;
}

RT metal_rt(const FlakeStructure& structure, const Indices& index, double binder, Degrees incidence,
            Nanometres wavelength, double deviation) {
    RT sum;
    for (std::size_t i = 0; i < kGaussNodes.size(); ++i) {
        if (deviation == 0 && i != kMiddleNode) continue;
        const double weight = deviation == 0 ? 1 : kGaussNodes[i].weight;
        const double thickness = std::max(0.0, structure.core.value + kGaussNodes[i].deviations * deviation);
        const ThinLayer layer{index.core, Nanometres{thickness}};
        const RT rt = thin_film(binder, std::span(&layer, 1), {binder, 0}, incidence, wavelength).mean();
        sum.R += weight * rt.R;
        sum.T += weight * rt.T;
    }
    return sum;
}

double table_value(const std::array<colour::Reflectance, kFlakeTableSize>& table, std::size_t band,
                   Degrees incidence) noexcept {
    const double position = std::min(std::abs(incidence.value), 90.0) / paint::kFlakeTableStep.value;
    const std::size_t row = std::min(static_cast<std::size_t>(position), kFlakeTableSize - 2);
    const double share = position - static_cast<double>(row);
    return table[row][band] + share * (table[row + 1][band] - table[row][band]);
}

}  // namespace

FlakeOpticsTable flake_optics_table(const FlakeStructure& structure, RelativeIndex binder) {
    FW_EXPECTS(binder.value >= 1);
    FW_EXPECTS(structure.core.value > 0);
    const double core_deviation =
        std::clamp(structure.core_spread.value, 0.0, kMaxCoreSpread * structure.core.value);
    const double oxide_deviation =
        std::clamp(structure.oxide_spread.value, 0.0, kMaxOxideSpread * oxide_nm(structure));
    const bool is_metal = structure.kind == FlakeKind::aluminium;
    FlakeOpticsTable optics;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const Indices index = indices(structure, band, binder.value);
        const Nanometres wavelength{band_nm(band)};
        for (std::size_t row = 0; row < kFlakeTableSize; ++row) {
            const Degrees incidence{static_cast<double>(row) * paint::kFlakeTableStep.value};
            RT split{1, 0};  // along the flake
            if (row + 1 < kFlakeTableSize) {
                const double cos_in = std::cos(radians(incidence));
                split = is_metal
                            ? metal_rt(structure, index, binder.value, incidence, wavelength, core_deviation)
                            : pearl_rt(structure, index, binder.value, cos_in, wavelength, core_deviation,
                                       oxide_deviation);
            }
            // Rounding must not create energy.
            optics.reflected[row][band] = std::clamp(split.R, 0.0, 1.0);
            optics.transmitted[row][band] = std::clamp(split.T, 0.0, 1 - optics.reflected[row][band]);
        }
    }
    return optics;
}

PolarisedRT flake_rt(const FlakeStructure& structure, std::size_t band, Degrees incidence,
                     RelativeIndex binder) {
    FW_EXPECTS(band < kBandCount);
    const Indices index = indices(structure, band, binder.value);
    const ThinLayer oxide{index.oxide, Nanometres{oxide_nm(structure)}};
    const ThinLayer iron_oxide{index.iron_oxide, Nanometres{iron_oxide_nm(structure)}};
    const std::array<ThinLayer, 5> layers{oxide, iron_oxide, ThinLayer{index.core, structure.core},
                                          iron_oxide, oxide};
    return thin_film(binder.value, layers, {binder.value, 0}, incidence, Nanometres{band_nm(band)});
}

Micrometres flake_thickness(const FlakeStructure& structure) noexcept {
    return Micrometres{(structure.core.value + 2 * oxide_nm(structure) + 2 * iron_oxide_nm(structure)) /
                       1000};
}

GramsPerMillilitre flake_density(const FlakeStructure& structure) noexcept {
    const double oxide_share = 1 - structure.porosity.value;
    const double core = structure.core.value * density_of(core_of(structure.kind)).value;
    const double oxide = 2 * oxide_nm(structure) * oxide_share * density_of(oxide_of(structure)).value;
    const double iron_oxide =
        2 * iron_oxide_nm(structure) * oxide_share * density_of(FlakeMaterial::hematite).value;
    return GramsPerMillilitre{(core + oxide + iron_oxide) / (1000 * flake_thickness(structure).value)};
}

double reflected_at(const FlakeOpticsTable& optics, std::size_t band, Degrees incidence) noexcept {
    return table_value(optics.reflected, band, incidence);
}

double transmitted_at(const FlakeOpticsTable& optics, std::size_t band, Degrees incidence) noexcept {
    return table_value(optics.transmitted, band, incidence);
}

}  // namespace fadewright::film
