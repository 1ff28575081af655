#include "fadewright/film/flake.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/bands.h"
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
using paint::FlakeMirror;
using paint::kFlakeTableSize;
using Complex = std::complex<double>;

constexpr double kWidestCore = 1.0 / 3;   // spread over thickness
constexpr double kWidestOxide = 1.0 / 4;  // keeps the outermost node above 0
constexpr double kLastTerm = 1e-14;

// Seven places on a bell curve that stand for all of it, in deviations (Gauss-Hermite, from memory; the
// weights add up to 1).
struct BellNode {
    double deviations, weight;
};
constexpr std::array<BellNode, 7> kBellNodes{{{-3.750439717725742, 0.000548268855972217},
                                              {-2.366759410734541, 0.030757123967586498},
                                              {-1.154405394739968, 0.240123178605012713},
                                              {0, 0.457142857142857143},
                                              {1.154405394739968, 0.240123178605012713},
                                              {2.366759410734541, 0.030757123967586498},
                                              {3.750439717725742, 0.000548268855972217}}};
constexpr std::size_t kMiddleNode = kBellNodes.size() / 2;

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

FlakeMaterial oxide_of(const FlakeBuild& build) noexcept {
    if (build.kind == FlakeKind::iron_oxide_on_mica) return FlakeMaterial::hematite;
    return build.crystal == paint::Titania::rutile ? FlakeMaterial::rutile : FlakeMaterial::anatase;
}

double oxide_nm(const FlakeBuild& build) noexcept {
    return build.kind == FlakeKind::aluminium ? 0 : std::max(0.0, build.oxide.value);
}

double under_nm(const FlakeBuild& build) noexcept {
    return build.kind == FlakeKind::titania_on_iron_oxide_on_mica ? std::max(0.0, build.under.value) : 0;
}

// Indices of one flake in one band.
struct Indices {
    OpticalIndex oxide, under, core;
};

Indices indices(const FlakeBuild& build, std::size_t band, double binder) {
    return {porous(index_of(oxide_of(build))[band], binder, build.pores),
            porous(index_of(FlakeMaterial::hematite)[band], binder, build.pores),
            index_of(core_of(build.kind))[band]};
}

// Powers of z averaged over the cores. Where they are spread, only the first few count.
constexpr int kMostTerms = 2000;
constexpr std::size_t kKeptPowers = 16;

struct CorePhase {
    double delta = 0;
    double deviation = 0;
    int terms = kMostTerms;
    std::array<Complex, kKeptPowers> kept;

    CorePhase(double phase, double spread) noexcept : delta(phase), deviation(spread) {
        const double last = std::sqrt(-2 * std::log(kLastTerm));
        if (spread * kMostTerms > last) terms = static_cast<int>(last / spread) + 1;
        for (std::size_t m = 0; m < kKeptPowers; ++m) kept[m] = worked_out(static_cast<int>(m));
    }
    [[nodiscard]] Complex worked_out(int m) const noexcept {
        return std::polar(std::exp(-0.5 * m * m * deviation * deviation), -m * delta);
    }
    [[nodiscard]] Complex mean(int m) const noexcept {
        const auto at = static_cast<std::size_t>(m);
        return at < kKeptPowers ? kept[at] : worked_out(m);
    }
};

double part(Complex a, Complex b) noexcept { return a.real() * b.real() - a.imag() * b.imag(); }

Split averaged(const CoatingAmplitudes& coat, const CorePhase& core) noexcept {
    const Complex rho = coat.back * coat.back;
    const Complex B = coat.back * (coat.through - coat.front * coat.back);
    if (core.deviation == 0) {
        const double below = std::norm(1.0 - rho * core.kept[1]);
        return {std::norm(coat.front + B * core.kept[1]) / below, std::norm(coat.through) / below};
    }
    // Means of 1/|1 - rho z|^2 and of z/|1 - rho z|^2, both times 1 - |rho|^2.
    const double size = std::abs(rho);
    double plain = 1;
    Complex with_z = core.mean(1);
    Complex power = 1;
    double left = 1;
    for (int m = 1; m <= core.terms + 1 && left > kLastTerm; ++m) {
        power *= rho;
        left *= size;
        plain += 2 * part(power, core.mean(m));
        with_z += power * core.mean(m + 1) + std::conj(power * core.mean(m - 1));
    }
    const double scale = 1 - size * size;
    return {((std::norm(coat.front) + std::norm(B)) * plain + 2 * part(std::conj(coat.front) * B, with_z)) /
                scale,
            std::norm(coat.through) * plain / scale};
}

// Mean over the oxide and both polarisations, cores averaged in closed form.
Split pearl(const FlakeBuild& build, const Indices& index, double binder, double cos_in,
            Nanometres wavelength, double core_deviation, double oxide_deviation) {
    const double n_sin = binder * std::sqrt(1 - cos_in * cos_in);
    const double n_core = index.core.n;
    const double phase = 4 * std::numbers::pi * std::sqrt(n_core * n_core - n_sin * n_sin) / wavelength.value;
    const CorePhase core{phase * build.core.value, phase * core_deviation};
    Split sum;
    for (std::size_t i = 0; i < kBellNodes.size(); ++i) {
        if (oxide_deviation == 0 && i != kMiddleNode) continue;
        const double weight = oxide_deviation == 0 ? 1 : kBellNodes[i].weight;
        const std::array<Sheet, 2> coats{
            {{index.oxide, Nanometres{oxide_nm(build) + kBellNodes[i].deviations * oxide_deviation}},
             {index.under, Nanometres{under_nm(build)}}}};
        const auto sheets = std::span(coats).first(under_nm(build) > 0 ? 2 : 1);
        for (const Polarisation way : {Polarisation::s, Polarisation::p}) {
            const Split one = averaged(coating(binder, sheets, n_core, cos_in, wavelength, way), core);
            sum.R += weight / 2 * one.R;
            sum.T += weight / 2 * one.T;
        }
    }
    return sum;
}

Split metal(const FlakeBuild& build, const Indices& index, double binder, Degrees incidence,
            Nanometres wavelength, double deviation) {
    Split sum;
    for (std::size_t i = 0; i < kBellNodes.size(); ++i) {
        if (deviation == 0 && i != kMiddleNode) continue;
        const double weight = deviation == 0 ? 1 : kBellNodes[i].weight;
        const double thickness = std::max(0.0, build.core.value + kBellNodes[i].deviations * deviation);
        const Sheet sheet{index.core, Nanometres{thickness}};
        const Split one = thin_film(binder, std::span(&sheet, 1), {binder, 0}, incidence, wavelength).mean();
        sum.R += weight * one.R;
        sum.T += weight * one.T;
    }
    return sum;
}

double at(const std::array<colour::Reflectance, kFlakeTableSize>& table, std::size_t band,
          Degrees incidence) noexcept {
    const double place = std::min(std::abs(incidence.value), 90.0) / paint::kFlakeTableStep.value;
    const std::size_t row = std::min(static_cast<std::size_t>(place), kFlakeTableSize - 2);
    const double share = place - static_cast<double>(row);
    return table[row][band] + share * (table[row + 1][band] - table[row][band]);
}

}  // namespace

FlakeMirror mirror_of(const FlakeBuild& build, RelativeIndex binder) {
    FW_EXPECTS(binder.value >= 1);
    FW_EXPECTS(build.core.value > 0);
    const double core_deviation = std::clamp(build.core_spread.value, 0.0, kWidestCore * build.core.value);
    const double oxide_deviation = std::clamp(build.oxide_spread.value, 0.0, kWidestOxide * oxide_nm(build));
    const bool is_metal = build.kind == FlakeKind::aluminium;
    FlakeMirror mirror;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const Indices index = indices(build, band, binder.value);
        const Nanometres wavelength{band_nm(band)};
        for (std::size_t row = 0; row < kFlakeTableSize; ++row) {
            const Degrees incidence{static_cast<double>(row) * paint::kFlakeTableStep.value};
            Split split{1, 0};  // along the flake
            if (row + 1 < kFlakeTableSize) {
                const double cos_in = std::cos(incidence.value * std::numbers::pi / 180);
                split = is_metal ? metal(build, index, binder.value, incidence, wavelength, core_deviation)
                                 : pearl(build, index, binder.value, cos_in, wavelength, core_deviation,
                                         oxide_deviation);
            }
            // Rounding must not make light.
            mirror.reflected[row][band] = std::clamp(split.R, 0.0, 1.0);
            mirror.passed[row][band] = std::clamp(split.T, 0.0, 1 - mirror.reflected[row][band]);
        }
    }
    return mirror;
}

PolarisedSplit flake_split(const FlakeBuild& build, std::size_t band, Degrees incidence,
                           RelativeIndex binder) {
    FW_EXPECTS(band < kBandCount);
    const Indices index = indices(build, band, binder.value);
    const Sheet oxide{index.oxide, Nanometres{oxide_nm(build)}};
    const Sheet under{index.under, Nanometres{under_nm(build)}};
    const std::array<Sheet, 5> sheets{oxide, under, Sheet{index.core, build.core}, under, oxide};
    return thin_film(binder.value, sheets, {binder.value, 0}, incidence, Nanometres{band_nm(band)});
}

Micrometres flake_thickness(const FlakeBuild& build) noexcept {
    return Micrometres{(build.core.value + 2 * oxide_nm(build) + 2 * under_nm(build)) / 1000};
}

GramsPerMillilitre flake_density(const FlakeBuild& build) noexcept {
    const double dense = 1 - build.pores.value;
    const double core = build.core.value * density_of(core_of(build.kind)).value;
    const double oxide = 2 * oxide_nm(build) * dense * density_of(oxide_of(build)).value;
    const double under = 2 * under_nm(build) * dense * density_of(FlakeMaterial::hematite).value;
    return GramsPerMillilitre{(core + oxide + under) / (1000 * flake_thickness(build).value)};
}

double reflected_at(const FlakeMirror& mirror, std::size_t band, Degrees incidence) noexcept {
    return at(mirror.reflected, band, incidence);
}

double passed_at(const FlakeMirror& mirror, std::size_t band, Degrees incidence) noexcept {
    return at(mirror.passed, band, incidence);
}

}  // namespace fadewright::film
