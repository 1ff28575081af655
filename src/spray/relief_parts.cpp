#include "relief_parts.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::spray {
namespace {

// A height that depends on one length alone, and how fast it changes with it.
struct Fall {
    double height_mm;
    double per_mm;
    bool ends = false;
};

// A circle of that radius under its highest point, `aside` from it.
Fall circle_at(double radius, double aside) noexcept {
    const double horizon = radius * kSteepest / std::hypot(1.0, kSteepest);
    if (aside >= horizon) return {radius / std::hypot(1.0, kSteepest) - radius, 0, true};
    const double up = std::sqrt(radius * radius - aside * aside);
    return {-aside * aside / (up + radius), -aside / up};
}

double radius_of(const Dome& dome) noexcept {
    const double b = dome.base_radius.value, h = std::abs(dome.height.value);
    return (b * b + h * h) / (2 * h);
}

struct Turn {
    double across_x, across_y;  // a unit vector square to the axis
};

Turn turn_of(const Cylinder& part) noexcept {
    const double angle = part.axis.value * std::numbers::pi / 180;
    return {-std::sin(angle), std::cos(angle)};
}

// The slope where the height depends on the length whose direction of growth is (dx, dy).
Slope along(const Fall& fall, double dx, double dy) noexcept {
    return {fall.height_mm, fall.per_mm * dx, fall.per_mm * dy, fall.ends};
}

// Along the direction from a centre; level on the centre itself.
Slope around(const Fall& fall, double dx, double dy, double aside) noexcept {
    return aside > 0 ? along(fall, dx / aside, dy / aside) : Slope{fall.height_mm, 0, 0, fall.ends};
}

// The circle that leaves the top smoothly `width` from the rim and is `drop` lower at the rim.
double arc_radius(const Bevel& bevel) noexcept {
    const double w = bevel.width.value, d = bevel.drop.value;
    return (w * w + d * d) / (2 * d);
}

// Inwards from the rim.
Fall bevel_at(const Bevel& bevel, double inwards) noexcept {
    const double w = bevel.width.value, d = bevel.drop.value;
    if (inwards <= 0) return {-d, 0};
    if (inwards >= w) return {0, 0};
    if (bevel.profile == BevelProfile::straight) return {-d * (1 - inwards / w), d / w};
    const double aside = w - inwards;
    const double up = std::sqrt(std::max(0.0, arc_radius(bevel) * arc_radius(bevel) - aside * aside));
    const double steep = aside < kSteepest * up ? aside / up : kSteepest;
    return {-aside * aside / (up + arc_radius(bevel)), steep};
}

// The groove's section: where the shoulder's arc begins on the top and ends on the side.
struct Section {
    double half, depth;
    double radius;
    double top, side;  // from the bottom line
};

Section section_of(const Groove& groove) noexcept {
    const double half = groove.width.value / 2, depth = groove.depth.value;
    // The arc turns by the side's angle; its tangents are radius x tan(angle / 2) long.
    const double slant = std::hypot(half, depth);
    const double tangent_per_radius = depth / (slant + half);
    const double radius = std::min(groove.shoulder.value, slant / tangent_per_radius);
    const double tangent = radius * tangent_per_radius;
    return {half, depth, radius, half + tangent, half - tangent * half / slant};
}

Fall groove_at(const Section& s, double aside) noexcept {
    if (aside >= s.top) return {0, 0};
    if (aside < s.side) return {-s.depth * (1 - aside / s.half), s.depth / s.half};
    if (s.radius <= 0) return {0, 0};
    const double from_top = s.top - aside;
    const double up = std::sqrt(std::max(0.0, s.radius * s.radius - from_top * from_top));
    return {-from_top * from_top / (up + s.radius), from_top / up};
}

}  // namespace

Slope slope_of(const Cylinder& part, double x_mm, double y_mm) noexcept {
    const Turn turn = turn_of(part);
    const double t = (x_mm - part.through.x_mm) * turn.across_x + (y_mm - part.through.y_mm) * turn.across_y;
    const double way = t < 0 ? -1 : 1;
    return along(circle_at(part.radius.value, std::abs(t)), way * turn.across_x, way * turn.across_y);
}

Slope slope_of(const Sphere& part, double x_mm, double y_mm) noexcept {
    const double dx = x_mm - part.centre.x_mm, dy = y_mm - part.centre.y_mm;
    const double aside = std::hypot(dx, dy);
    return around(circle_at(part.radius.value, aside), dx, dy, aside);
}

Slope slope_of(const Dome& part, double x_mm, double y_mm) noexcept {
    const double dx = x_mm - part.centre.x_mm, dy = y_mm - part.centre.y_mm;
    const double aside = std::hypot(dx, dy);
    if (aside >= part.base_radius.value) return {};
    const double radius = radius_of(part);
    const double up = std::sqrt(radius * radius - aside * aside);
    const double way = part.height.value < 0 ? -1 : 1;
    const double height = std::abs(part.height.value) - aside * aside / (up + radius);
    const double steep = aside < kSteepest * up ? aside / up : kSteepest;
    return around({way * height, -way * steep}, dx, dy, aside);
}

Slope slope_of(const Bevel& part, double x_mm, double y_mm) noexcept {
    const Away away = part.outline.away(x_mm, y_mm, part.width.value);
    return along(bevel_at(part, -away.distance_mm), -away.dx, -away.dy);
}

Slope slope_of(const Groove& part, double x_mm, double y_mm) noexcept {
    const Section section = section_of(part);
    const Away away = part.lines.away(x_mm, y_mm, section.top);
    return along(groove_at(section, away.distance_mm), away.dx, away.dy);
}

Slope slope_of(const HeightMap& part, double x_mm, double y_mm) noexcept { return part.at(x_mm, y_mm); }

Heights heights_of(const Cylinder& part, const Box& over) noexcept {
    const Turn turn = turn_of(part);
    double least = 0, most = 0;
    bool first = true;
    for (const double x : {over.x0, over.x1})
        for (const double y : {over.y0, over.y1}) {
            const double t =
                (x - part.through.x_mm) * turn.across_x + (y - part.through.y_mm) * turn.across_y;
            least = first ? t : std::min(least, t);
            most = first ? t : std::max(most, t);
            first = false;
        }
    const double nearest = least <= 0 && most >= 0 ? 0 : std::min(std::abs(least), std::abs(most));
    const double farthest = std::max(std::abs(least), std::abs(most));
    return {circle_at(part.radius.value, farthest).height_mm,
            circle_at(part.radius.value, nearest).height_mm};
}

Heights heights_of(const Sphere& part, const Box& over) noexcept {
    const auto gap = [](double low, double high, double at) { return std::max({low - at, 0.0, at - high}); };
    const auto span = [](double low, double high, double at) { return std::max(at - low, high - at); };
    const double x = part.centre.x_mm, y = part.centre.y_mm;
    const double nearest = std::hypot(gap(over.x0, over.x1, x), gap(over.y0, over.y1, y));
    const double farthest = std::hypot(span(over.x0, over.x1, x), span(over.y0, over.y1, y));
    return {circle_at(part.radius.value, farthest).height_mm,
            circle_at(part.radius.value, nearest).height_mm};
}

Heights heights_of(const Dome& part, const Box&) noexcept {
    return {std::min(0.0, part.height.value), std::max(0.0, part.height.value)};
}

Heights heights_of(const Bevel& part, const Box&) noexcept { return {-part.drop.value, 0}; }

Heights heights_of(const Groove& part, const Box&) noexcept { return {-part.depth.value, 0}; }

Heights heights_of(const HeightMap& part, const Box&) noexcept {
    return {part.lowest_mm(), part.highest_mm()};
}

void expect_sound(const Cylinder& part) { FW_EXPECTS(part.radius.value > 0); }

void expect_sound(const Sphere& part) { FW_EXPECTS(part.radius.value > 0); }

void expect_sound(const Dome& part) {
    FW_EXPECTS(part.base_radius.value > 0);
    FW_EXPECTS(part.height.value != 0 && std::abs(part.height.value) <= part.base_radius.value);
}

void expect_sound(const Bevel& part) {
    FW_EXPECTS(part.width.value > 0 && part.drop.value > 0);
    FW_EXPECTS(part.profile == BevelProfile::straight || part.drop.value <= part.width.value);
}

void expect_sound(const Groove& part) {
    FW_EXPECTS(part.width.value > 0 && part.depth.value > 0 && part.shoulder.value >= 0);
}

void expect_sound(const HeightMap&) {}

}  // namespace fadewright::spray
