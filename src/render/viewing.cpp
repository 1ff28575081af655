#include "fadewright/render/viewing.h"

#include "fadewright/film/surface.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::render {
namespace {

constexpr Direction kLampDirection{-0.35, 0.50, 0.7921489758877429};

// In the vertical plane of light and eye: positive above the normal.
Direction in_viewing_plane(double from_normal_deg) noexcept {
    return {0, std::sin(from_normal_deg * kRadiansPerDegree), std::cos(from_normal_deg * kRadiansPerDegree)};
}

// The direction in the axes of the body after its rotation about its horizontal axis.
Direction tilt_direction(const Direction& d, Degrees tilt) noexcept {
    const double s = std::sin(tilt.value * kRadiansPerDegree), c = std::cos(tilt.value * kRadiansPerDegree);
    return {d.x, c * d.y + s * d.z, c * d.z - s * d.y};
}

// Angle between the lamp and the mirror direction of the eye.
Degrees angle_from_mirror(const Viewing& viewing, const Direction& normal, double cos_out) noexcept {
    const Direction& e = viewing.eye_direction;
    const Direction mirror{2 * cos_out * normal.x - e.x, 2 * cos_out * normal.y - e.y,
                           2 * cos_out * normal.z - e.z};
    return Degrees{std::acos(std::clamp(film::dot(mirror, viewing.light_direction), -1.0, 1.0)) /
                   kRadiansPerDegree};
}

Degrees angle_from_normal(double cosine) noexcept {
    return Degrees{std::acos(std::clamp(cosine, 0.0, 1.0)) / kRadiansPerDegree};
}

// Surface reflection of a lamp that gives unit light on a point facing it, as a reflectance.
double lamp_reflectance(Degrees angle, Degrees lamp, double cos_out) {
    return std::numbers::pi * film::fresnel({}, angle_from_normal(cos_out)) * film::lobe(angle, lamp);
}

// A direction at one angle from the normal, and a second at another angle from it, at a given angle to the
// first.
Direction direction_at(double cosine) noexcept {
    return {std::sqrt(std::max(0.0, 1 - cosine * cosine)), 0, cosine};
}
Direction direction_beside(double cosine, const Direction& first, double cos_between) noexcept {
    const double level = std::sqrt(std::max(0.0, 1 - cosine * cosine));
    const double along = first.x > 0 ? (cos_between - cosine * first.z) / first.x : level;
    const double x = std::clamp(along, -level, level);
    return {x, std::sqrt(std::max(0.0, level * level - x * x)), cosine};
}

}  // namespace

Direction surface_normal(const spray::SurfaceSample& s) noexcept {
    const double length = std::sqrt(1 + s.dz_dx * s.dz_dx + s.dz_dy * s.dz_dy);
    return {-s.dz_dx / length, -s.dz_dy / length, 1 / length};
}

Viewing goniometer_viewing(Degrees aspecular) noexcept {
    Viewing viewing;
    viewing.light_direction = in_viewing_plane(film::kIllumination45.value);
    viewing.eye_direction = in_viewing_plane(
        -film::aspecular_view(film::kIllumination45, aspecular).value);  // counted from the light
    return viewing;
}

Viewing shape_viewing(Degrees tilt) noexcept {
    Viewing viewing;
    viewing.light_direction = tilt_direction(kLampDirection, tilt);
    viewing.eye_direction = tilt_direction({0, 0, 1}, tilt);
    viewing.lamp_spread = Degrees{10};
    viewing.diffuse_share = kDiffuseShare;
    viewing.shows_lamp = true;
    viewing.uses_slope = true;
    return viewing;
}

Lighting lighting(const Viewing& viewing, const spray::SurfaceSample& surface) {
    Lighting out;
    if (!viewing.uses_slope) {
        out.light_direction = viewing.light_direction;
        out.eye_direction = viewing.eye_direction;
        out.haze = film::haze_factor({}, angle_from_normal(out.light_direction.z),
                                     angle_from_mirror(viewing, {0, 0, 1}, out.eye_direction.z),
                                     out.eye_direction.z, viewing.lamp_spread);
        return out;
    }
    const Direction normal = surface_normal(surface);
    const double cos_in = film::dot(normal, viewing.light_direction),
                 cos_out = film::dot(normal, viewing.eye_direction);
    out.light_direction = direction_at(cos_in);
    out.eye_direction = direction_beside(cos_out, out.light_direction,
                                         film::dot(viewing.light_direction, viewing.eye_direction));
    const double total = viewing.diffuse_share + (1 - viewing.diffuse_share) * kLampDirection.z;
    const double lamp = (1 - viewing.diffuse_share) / total;
    out.ambient = viewing.diffuse_share / total * (1 + cos_out) / 2;
    out.beam = lamp * std::max(0.0, cos_in);
    if (cos_out <= 0) return out;
    const Degrees angle = angle_from_mirror(viewing, normal, cos_out);
    if (viewing.shows_lamp && viewing.lamp_spread.value > 0)
        out.lamp_reflection = lamp * lamp_reflectance(angle, viewing.lamp_spread, cos_out);
    out.haze =
        out.beam * film::haze_factor({}, angle_from_normal(cos_in), angle, cos_out, viewing.lamp_spread);
    return out;
}

}  // namespace fadewright::render
