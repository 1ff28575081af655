#include "fadewright/render/viewing.h"

#include "fadewright/film/haze.h"
#include "fadewright/film/skin.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::render {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr Direction kLamp{-0.35, 0.50, 0.7921489758877429};

// In the plane of light and eye, upright: positive above the normal.
Direction upright(double from_normal_deg) noexcept {
    return {0, std::sin(from_normal_deg * kDegree), std::cos(from_normal_deg * kDegree)};
}

// The direction as the body sees it once it is turned about its level axis.
Direction turned(const Direction& d, Degrees tilt) noexcept {
    const double s = std::sin(tilt.value * kDegree), c = std::cos(tilt.value * kDegree);
    return {d.x, c * d.y + s * d.z, c * d.z - s * d.y};
}

// Between the lamp and the direction from which the eye sees a mirror image.
Degrees off_mirror(const Viewing& viewing, const Direction& normal, double cos_out) noexcept {
    const Direction& e = viewing.eye;
    const Direction mirror{2 * cos_out * normal.x - e.x, 2 * cos_out * normal.y - e.y,
                           2 * cos_out * normal.z - e.z};
    return Degrees{std::acos(std::clamp(film::dot(mirror, viewing.light), -1.0, 1.0)) / kDegree};
}

Degrees from_normal(double cosine) noexcept {
    return Degrees{std::acos(std::clamp(cosine, 0.0, 1.0)) / kDegree};
}

// What the skin mirrors of a lamp of unit light on a place facing it, as a reflectance.
double mirrored_lamp(Degrees off, Degrees lamp, double cos_out) {
    return std::numbers::pi * film::fresnel({}, from_normal(cos_out)) * film::lobe(off, lamp);
}

// A direction so far from the normal, and one that far from it whose angle to the first is known.
Direction in_plane(double cosine) noexcept {
    return {std::sqrt(std::max(0.0, 1 - cosine * cosine)), 0, cosine};
}
Direction beside(double cosine, const Direction& first, double cos_between) noexcept {
    const double level = std::sqrt(std::max(0.0, 1 - cosine * cosine));
    const double along = first.x > 0 ? (cos_between - cosine * first.z) / first.x : level;
    const double x = std::clamp(along, -level, level);
    return {x, std::sqrt(std::max(0.0, level * level - x * x)), cosine};
}

}  // namespace

Direction normal_of(const spray::Slope& s) noexcept {
    const double length = std::sqrt(1 + s.dz_dx * s.dz_dx + s.dz_dy * s.dz_dy);
    return {-s.dz_dx / length, -s.dz_dy / length, 1 / length};
}

Viewing instrument(Degrees aspecular) noexcept {
    Viewing viewing;
    viewing.light = upright(film::kLit.value);
    viewing.eye =
        upright(-film::aspecular_view(film::kLit, aspecular).value);  // views count down from the light
    return viewing;
}

Viewing on_body(Degrees tilt) noexcept {
    Viewing viewing;
    viewing.light = turned(kLamp, tilt);
    viewing.eye = turned({0, 0, 1}, tilt);
    viewing.lamp = Degrees{10};
    viewing.soft = kSoftShare;
    viewing.shine = true;
    viewing.by_form = true;
    return viewing;
}

Lighting lighting(const Viewing& viewing, const spray::Slope& surface) {
    Lighting out;
    if (!viewing.by_form) {
        out.light = viewing.light;
        out.eye = viewing.eye;
        out.haze = film::haze_factor({}, from_normal(out.light.z), off_mirror(viewing, {0, 0, 1}, out.eye.z),
                                     out.eye.z, viewing.lamp);
        return out;
    }
    const Direction normal = normal_of(surface);
    const double cos_in = film::dot(normal, viewing.light), cos_out = film::dot(normal, viewing.eye);
    out.light = in_plane(cos_in);
    out.eye = beside(cos_out, out.light, film::dot(viewing.light, viewing.eye));
    const double whole = viewing.soft + (1 - viewing.soft) * kLamp.z;
    const double lamp = (1 - viewing.soft) / whole;
    out.ambient = viewing.soft / whole * (1 + cos_out) / 2;
    out.beam = lamp * std::max(0.0, cos_in);
    if (cos_out <= 0) return out;
    const Degrees off = off_mirror(viewing, normal, cos_out);
    if (viewing.shine && viewing.lamp.value > 0) out.shine = lamp * mirrored_lamp(off, viewing.lamp, cos_out);
    out.haze = out.beam * film::haze_factor({}, from_normal(cos_in), off, cos_out, viewing.lamp);
    return out;
}

}  // namespace fadewright::render
