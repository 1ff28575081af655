#include "fadewright/film/flake_layer.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/bands.h"

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
constexpr double kEdgeBand_nm = 550;

// Integral of sin(2 angle) over what each row of a table stands for, straight between rows: the second
// difference of -sin(2 angle)/4. They add up to 1.
std::array<double, kFlakeTableSize> diffuse_weights() noexcept {
    const double h = paint::kFlakeTableStep.value * std::numbers::pi / 180;
    std::array<double, kFlakeTableSize> weights;
    for (std::size_t row = 0; row < kFlakeTableSize; ++row)
        weights[row] = std::sin(2 * h * static_cast<double>(row)) * (1 - std::cos(2 * h)) / (2 * h);
    weights.front() = weights.back() = 0.5 - std::sin(2 * h) / (4 * h);
    return weights;
}

}  // namespace

FlakeMeans diffuse_means(const paint::FlakeMirror& mirror) noexcept {
    const auto weights = diffuse_weights();
    FlakeMeans means;
    for (std::size_t row = 0; row < kFlakeTableSize; ++row)
        for (std::size_t band = 0; band < kBandCount; ++band) {
            means.reflected[band] += weights[row] * mirror.reflected[row][band];
            means.passed[band] += weights[row] * mirror.passed[row][band];
        }
    return means;
}

FlakeOptics diffuse_optics(const paint::Flakes& flakes, EdgeScatter edges) {
    FW_EXPECTS(flakes.mirror != nullptr);
    FW_EXPECTS(flakes.crossings_per_um >= 0);
    const FlakeMeans means = diffuse_means(*flakes.mirror);
    FlakeOptics optics;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const double swallowed = 1 - means.reflected[band] - means.passed[band];
        optics.K[band] = flakes.crossings_per_um * std::max(0.0, swallowed);
        optics.S[band] = flakes.crossings_per_um * means.reflected[band] +
                         edges.at_550_nm.value * std::pow(kEdgeBand_nm / colour::band_nm(band), edges.power);
    }
    return optics;
}

Share flake_share(GramsPerLitre stirred_in, GramsPerMillilitre flake_density, Share paint_solids) {
    FW_EXPECTS(stirred_in.value >= 0);
    FW_EXPECTS(flake_density.value > 0);
    const double flakes = stirred_in.value / flake_density.value;
    const double dry = kMillilitresPerLitre * paint_solids.value;
    return Share{flakes > 0 ? flakes / (flakes + dry) : 0};
}

GramsPerLitre flakes_for(Share of_dry_film, GramsPerMillilitre flake_density, Share paint_solids) {
    FW_EXPECTS(of_dry_film.value >= 0 && of_dry_film.value < 1);
    const double dry = kMillilitresPerLitre * paint_solids.value;
    return GramsPerLitre{flake_density.value * dry * of_dry_film.value / (1 - of_dry_film.value)};
}

double crossings_per_um(Share of_dry_film, Micrometres flake_thickness) {
    FW_EXPECTS(flake_thickness.value > 0);
    return of_dry_film.value / flake_thickness.value;
}

double flakes_per_cm2(const paint::Flakes& flakes, Micrometres film) {
    FW_EXPECTS(flakes.size.value > 0);
    const double area = std::numbers::pi / 4 * flakes.size.value * flakes.size.value;
    return flakes.crossings_per_um * film.value / area * kSquareMicrometresPerCm2;
}

Grams spoonfuls(double level_spoons, GramsPerMillilitre as_it_lies, Millilitres spoon) noexcept {
    return Grams{level_spoons * spoon.value * as_it_lies.value};
}

}  // namespace fadewright::film
