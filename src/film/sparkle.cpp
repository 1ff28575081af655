#include "fadewright/film/sparkle.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/flake_layer.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::film {
namespace {

constexpr double kSquareMillimetresPerCm2 = 100;

// Mean square over squared mean of exp(-a x), x uniform over the film.
double depth_variance_factor(double depth) noexcept {
    const double half = depth / 2;
    return half < 1e-4 ? 1 + half * half / 3 : half / std::tanh(half);
}

}  // namespace

double sparkling_share(const paint::EffectPigment& flakes, const FlakeReflectionScene& scene, Degrees lamp) {
    FW_EXPECTS(lamp.value > 0 && lamp.value < 90);
    const FlakeGeometry& g = scene.geometry;
    const double n = scene.binder.value;
    const double slope = std::tan(flakes.tilt.value * kRadiansPerDegree);
    const double cone = 2 * std::numbers::pi * (1 - std::cos(lamp.value * kRadiansPerDegree));
    const double normals =
        cone * std::max(0.0, scene.light.z) / (n * n * g.cos_light) / (4 * g.cos_incidence);
    return std::min(1.0, normal_density(g.cos_tilt, slope * slope) * g.cos_tilt * normals);
}

Sparkle sparkle(const paint::EffectPigment& flakes, Micrometres film, double sparkling_share,
                double extinction_per_um, double area_variation) {
    FW_EXPECTS(extinction_per_um >= 0);
    Sparkle result;
    result.sparkling_per_cm2 = flakes_per_cm2(flakes, film) * sparkling_share;
    if (result.sparkling_per_cm2 > 0)
        result.relative_power_mm2 = (1 + area_variation * area_variation) *
                                    depth_variance_factor(extinction_per_um * film.value) *
                                    kSquareMillimetresPerCm2 / result.sparkling_per_cm2;
    return result;
}

Sparkle sparkle(const paint::EffectPigment& flakes, Micrometres film, const FlakeReflectionScene& scene,
                Degrees lamp, double extinction_per_um, double area_variation) {
    return sparkle(flakes, film, sparkling_share(flakes, scene, lamp), extinction_per_um, area_variation);
}

double sparkle_power_mm2(const Sparkle& sparkle, double Y) noexcept {
    return Y * Y * sparkle.relative_power_mm2;
}

double Patchiness::index() const noexcept {
    return std::max(gap_share / kMaxGapShare, noise_1cm / kMaxNoise_1cm);
}

Patchiness patchiness(const paint::EffectPigment& flakes, Micrometres film, double area_variation) {
    const double number = flakes_per_cm2(flakes, film);
    if (number <= 0) return {1, 0};
    return {std::exp(-flakes.platelet_hits_per_um * film.value),
            std::sqrt((1 + area_variation * area_variation) / number)};
}

std::optional<double> patchiness_index(std::span<const paint::EffectPigment> kinds, Micrometres film) {
    std::optional<double> min_index;
    for (const paint::EffectPigment& flakes : kinds) {
        if (flakes.platelet_hits_per_um <= 0) continue;
        const double kind_index = patchiness(flakes, film).index();
        min_index = std::min(min_index.value_or(kind_index), kind_index);
    }
    return min_index;
}

}  // namespace fadewright::film
