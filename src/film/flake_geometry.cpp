#include "fadewright/film/flake_geometry.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::film {
namespace {

double surface_transmission(double cos_air, RelativeIndex binder) noexcept {
    if (cos_air <= 0) return 0;
    return 1 - fresnel(binder, Degrees{std::acos(std::min(cos_air, 1.0)) / kRadiansPerDegree});
}

}  // namespace

double dot(const Direction& a, const Direction& b) noexcept { return a.x * b.x + a.y * b.y + a.z * b.z; }

Direction light_direction(Degrees illumination) noexcept {
    return {-std::sin(illumination.value * kRadiansPerDegree), 0,
            std::cos(illumination.value * kRadiansPerDegree)};
}

Direction view_direction(Degrees view) noexcept {
    return {std::sin(view.value * kRadiansPerDegree), 0, std::cos(view.value * kRadiansPerDegree)};
}

Degrees aspecular_view(Degrees illumination, Degrees aspecular) noexcept { return illumination - aspecular; }

Direction in_binder(const Direction& in_air, RelativeIndex binder) noexcept {
    const double x = in_air.x / binder.value, y = in_air.y / binder.value;
    return {x, y, std::sqrt(std::max(0.0, 1 - x * x - y * y))};
}

FlakeGeometry flake_geometry(const Direction& light, const Direction& view, RelativeIndex binder) noexcept {
    const Direction in = in_binder(light, binder), out = in_binder(view, binder);
    const Direction sum{in.x + out.x, in.y + out.y, in.z + out.z};
    const double length = std::sqrt(dot(sum, sum));
    FlakeGeometry geometry;
    geometry.transmission_in = surface_transmission(light.z, binder);
    geometry.transmission_out = surface_transmission(view.z, binder);
    geometry.cos_light = in.z;
    geometry.cos_view = out.z;
    if (length <= 0) return geometry;  // along the surface and opposite, without a binder: no transmission
    geometry.cos_tilt = std::min(1.0, sum.z / length);
    geometry.cos_incidence = std::min(1.0, length / 2);
    return geometry;
}

double normal_density(double cos_tilt, double s2) noexcept {
    const double c2 = cos_tilt * cos_tilt;
    if (c2 <= 0 || s2 <= 0) return 0;
    return std::exp(-(1 - c2) / c2 / (2 * s2)) / (2 * std::numbers::pi * s2 * c2 * c2);
}

}  // namespace fadewright::film
