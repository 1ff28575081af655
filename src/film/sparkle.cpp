#include "fadewright/film/sparkle.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/flake_layer.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::film {
namespace {

constexpr double kPerDegree = std::numbers::pi / 180;
constexpr double kSquareMillimetresPerCm2 = 100;

// Mean square over square of the mean of exp(-a x), x even over the film.
double depth_spread(double faded) noexcept {
    const double half = faded / 2;
    return half < 1e-4 ? 1 + half * half / 3 : half / std::tanh(half);
}

}  // namespace

double glinting_share(const paint::Flakes& flakes, const GlintScene& scene, Degrees lamp) {
    FW_EXPECTS(lamp.value > 0 && lamp.value < 90);
    const FlakeGeometry& g = scene.geometry;
    const double n = scene.binder.value;
    const double slope = std::tan(flakes.tilt.value * kPerDegree);
    const double cone = 2 * std::numbers::pi * (1 - std::cos(lamp.value * kPerDegree));
    const double normals =
        cone * std::max(0.0, scene.light.z) / (n * n * g.cos_light) / (4 * g.cos_incidence);
    return std::min(1.0, normal_density(g.cos_tilt, slope * slope) * g.cos_tilt * normals);
}

Sparkle sparkle(const paint::Flakes& flakes, Micrometres film, double glinting_share, double lost_per_um,
                double area_variation) {
    FW_EXPECTS(lost_per_um >= 0);
    Sparkle found;
    found.glinting_per_cm2 = flakes_per_cm2(flakes, film) * glinting_share;
    if (found.glinting_per_cm2 > 0)
        found.relative_power_mm2 = (1 + area_variation * area_variation) *
                                   depth_spread(lost_per_um * film.value) * kSquareMillimetresPerCm2 /
                                   found.glinting_per_cm2;
    return found;
}

Sparkle sparkle(const paint::Flakes& flakes, Micrometres film, const GlintScene& scene, Degrees lamp,
                double lost_per_um, double area_variation) {
    return sparkle(flakes, film, glinting_share(flakes, scene, lamp), lost_per_um, area_variation);
}

double sparkle_power_mm2(const Sparkle& sparkle, double Y) noexcept {
    return Y * Y * sparkle.relative_power_mm2;
}

double Patchiness::figure() const noexcept {
    return std::max(bare_share / kMostBare, noise_1cm / kMostNoise_1cm);
}

Patchiness patchiness(const paint::Flakes& flakes, Micrometres film, double area_variation) {
    const double number = flakes_per_cm2(flakes, film);
    if (number <= 0) return {1, 0};
    return {std::exp(-flakes.crossings_per_um * film.value),
            std::sqrt((1 + area_variation * area_variation) / number)};
}

std::optional<double> patchy_figure(std::span<const paint::Flakes> kinds, Micrometres film) {
    std::optional<double> least;
    for (const paint::Flakes& flakes : kinds) {
        if (flakes.crossings_per_um <= 0) continue;
        const double figure = patchiness(flakes, film).figure();
        least = std::min(least.value_or(figure), figure);
    }
    return least;
}

}  // namespace fadewright::film
