#include "fadewright/film/surface.h"

#include "fadewright/film/flake_geometry.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::film {
namespace {

// Closer to 1 than this, the closed form is a difference of huge terms; the reflectance is then 0.
constexpr double kNoBoundary = 1e-6;

}  // namespace

SaundersonCorrection surface_at_normal(RelativeIndex binder) noexcept {
    return {fresnel(binder, Degrees{0}), diffuse_from_inside(binder)};
}

double internal_reflectance(SaundersonCorrection surface, double measured, Specular specular) noexcept {
    const double mirrored = specular == Specular::included ? surface.k1 : 0;
    const double emergent = std::max(0.0, measured - mirrored);
    return emergent / ((1 - surface.k1) * (1 - surface.k2) + surface.k2 * emergent);
}

double external_reflectance_45_0(RelativeIndex binder, double inside) noexcept {
    const double n = binder.value;
    const double in_and_out =
        (1 - fresnel(binder, Degrees{45})) * (1 - fresnel(binder, Degrees{0})) / (n * n);
    return in_and_out * inside / (1 - diffuse_from_inside(binder) * inside);
}

double fresnel(RelativeIndex binder, Degrees incidence) noexcept {
    const double n = binder.value;
    const double angle = radians(incidence);
    const double cos_i = std::max(0.0, std::cos(angle));
    const double sin_i = std::sin(angle);
    const double n_cos_t = std::sqrt(n * n - sin_i * sin_i);  // n times the cosine inside, by Snell's law
    if (cos_i + n_cos_t <= 0) return 1;                       // grazing, without a boundary
    const double across = (cos_i - n_cos_t) / (cos_i + n_cos_t);
    const double along = (n * n * cos_i - n_cos_t) / (n * n * cos_i + n_cos_t);
    return (across * across + along * along) / 2;
}

// The hemisphere integral of Fresnel's reflection in closed form. Powers of n that nearly cancel are kept as
// factors of d = n - 1, which leaves the cancellation between the last three terms only.
double diffuse_from_air(RelativeIndex binder) noexcept {
    const double n = binder.value;
    const double d = n - 1;
    if (d < kNoBoundary) return 0;
    const double n2 = n * n;
    const double p = n2 + 1;
    const double n2_1 = d * (n + 1);  // n^2 - 1
    const double n4_1 = n2_1 * p;     // n^4 - 1
    const double ln_n = std::log1p(d);
    return 0.5 + d * (3 * n + 1) / (6 * (n + 1) * (n + 1)) +
           n2 * n2_1 * n2_1 / (p * p * p) * std::log(d / (n + 1)) -
           2 * n2 * n * (n2 + 2 * n - 1) / (p * n4_1) +
           8 * n2 * n2 * (n2 * n2 + 1) / (p * n4_1 * n4_1) * ln_n;
}

double diffuse_from_inside(RelativeIndex binder) noexcept {
    const double n = binder.value;
    if (n - 1 < kNoBoundary) return 0;
    return 1 - (1 - diffuse_from_air(binder)) / (n * n);
}

double lobe(Degrees off_mirror, Degrees spread) {
    FW_EXPECTS(spread.value > 0);
    const double a = off_mirror.value / spread.value, s = spread.value * kRadiansPerDegree;
    return std::exp(-a * a / 2) / (2 * std::numbers::pi * s * s);
}

double haze_factor(RelativeIndex binder, Degrees incidence, Degrees off_mirror, double cos_view,
                   Degrees lamp) {
    const Degrees spread{std::hypot(kHazeSpread.value, lamp.value)};
    return std::numbers::pi * fresnel(binder, incidence) * lobe(off_mirror, spread) /
           std::max(cos_view, kMinCosine);
}

}  // namespace fadewright::film
