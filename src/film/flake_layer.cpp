#include "fadewright/film/flake_layer.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/spectrum.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace fadewright::film {
namespace {

using colour::kBandCount;
using paint::kFlakeTableSize;

constexpr double kMillilitresPerLitre = 1000;
constexpr double kSquareMicrometresPerCm2 = 1e8;
constexpr double kReference_nm = 550;

// Weights of the table rows for the integral with sin(2 angle), linear between rows: the second
// difference of -sin(2 angle)/4. Their sum is 1.
std::array<double, kFlakeTableSize> diffuse_weights() noexcept {
    const double h = radians(paint::kFlakeTableStep);
    std::array<double, kFlakeTableSize> weights;
    for (std::size_t row = 0; row < kFlakeTableSize; ++row)
        weights[row] = std::sin(2 * h * static_cast<double>(row)) * (1 - std::cos(2 * h)) / (2 * h);
    weights.front() = weights.back() = 0.5 - std::sin(2 * h) / (4 * h);
    return weights;
}

}  // namespace

FlakeMeans diffuse_means(const paint::FlakeOpticsTable& optics) noexcept {
    const auto weights = diffuse_weights();
    FlakeMeans means;
    for (std::size_t row = 0; row < kFlakeTableSize; ++row)
        for (std::size_t band = 0; band < kBandCount; ++band) {
            means.reflected[band] += weights[row] * optics.reflected[row][band];
            means.transmitted[band] += weights[row] * optics.transmitted[row][band];
        }
    return means;
}

FlakeCoefficients diffuse_coefficients(const paint::EffectPigment& flakes, EdgeScatter edges) {
    FW_EXPECTS(flakes.optics != nullptr);
    FW_EXPECTS(flakes.platelet_hits_per_um >= 0);
    const FlakeMeans means = diffuse_means(*flakes.optics);
    FlakeCoefficients optics;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const double absorbed = 1 - means.reflected[band] - means.transmitted[band];
        optics.K[band] = flakes.platelet_hits_per_um * std::max(0.0, absorbed);
        optics.S[band] = flakes.platelet_hits_per_um * means.reflected[band] +
                         edges.at_550_nm.value * std::pow(kReference_nm / colour::band_nm(band), edges.power);
    }
    return optics;
}

Share flake_share(GramsPerLitre flakes_added, GramsPerMillilitre flake_density, Share paint_solids) {
    FW_EXPECTS(flakes_added.value >= 0);
    FW_EXPECTS(flake_density.value > 0);
    const double flakes = flakes_added.value / flake_density.value;
    const double dry = kMillilitresPerLitre * paint_solids.value;
    return Share{flakes > 0 ? flakes / (flakes + dry) : 0};
}

GramsPerLitre flakes_to_add(Share of_dry_film, GramsPerMillilitre flake_density, Share paint_solids) {
    FW_EXPECTS(of_dry_film.value >= 0 && of_dry_film.value < 1);
    const double dry = kMillilitresPerLitre * paint_solids.value;
    return GramsPerLitre{flake_density.value * dry * of_dry_film.value / (1 - of_dry_film.value)};
}

double platelet_hits_per_um(Share of_dry_film, Micrometres flake_thickness) {
    FW_EXPECTS(flake_thickness.value > 0);
    return of_dry_film.value / flake_thickness.value;
}

double flakes_per_cm2(const paint::EffectPigment& flakes, Micrometres film) {
    FW_EXPECTS(flakes.size.value > 0);
    const double area = std::numbers::pi / 4 * flakes.size.value * flakes.size.value;
    return flakes.platelet_hits_per_um * film.value / area * kSquareMicrometresPerCm2;
}

Grams weight_of_spoons(double level_spoons, GramsPerMillilitre bulk_density, Millilitres spoon) noexcept {
    return Grams{level_spoons * spoon.value * bulk_density.value};
}

}  // namespace fadewright::film
