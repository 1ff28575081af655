#include "fadewright/spray/pass_segment.h"

#include <algorithm>
#include <limits>

namespace fadewright::spray {
namespace {

constexpr double kBoxSlack_mm = 1e-6;  // rounding at the edge of a box must not lose a point
constexpr double kEndless_mm = std::numeric_limits<double>::infinity();

// Millimetres on the panel: to the left and to the right of the segment, and beyond its ends.
struct Reach {
    double left, right, along;
};

// A ray that lands x beside the axis on a square panel lands at x d / (d cos t - x sin t) on a tilted one.
double heeled_mm(double x, double d, double heel) noexcept {
    const double denominator = d * std::cos(heel) - x * std::sin(heel);
    return denominator > 0 ? x * d / denominator : kEndless_mm;
}

Reach segment_reach(const Footprint& footprint, double distance_mm, const PassSegment& s) noexcept {
    const double across = std::visit([](const auto& f) { return f.reach_across_mm(); }, footprint);
    const double along = std::visit([](const auto& f) { return f.reach_along_mm(); }, footprint);
    Reach r{across, across, along};
    if (s.heel_rad != 0) {
        r.left = heeled_mm(across, distance_mm, s.heel_rad);
        r.right = heeled_mm(across, distance_mm, -s.heel_rad);
        const double farthest = s.heel_rad > 0 ? r.left : r.right;
        r.along = along * (1 + farthest * std::sin(std::abs(s.heel_rad)) / distance_mm);
    }
    return {s.scale * r.left + kBoxSlack_mm, s.scale * r.right + kBoxSlack_mm,
            s.scale * r.along + kBoxSlack_mm};
}

// Clamps t to low <= k t + c <= high.
void narrow_interval(double k, double c, double low, double high, geometry::Interval& t) noexcept {
    if (k == 0) {
        if (c < low || c > high) t = {1, 0};
        return;
    }
    t.from = std::max(t.from, std::min((low - c) / k, (high - c) / k));
    t.to = std::min(t.to, std::max((low - c) / k, (high - c) / k));
}

// Infinity times 0 is 0 here.
double times(double reach, double share) noexcept { return share == 0 ? 0 : reach * share; }

}  // namespace

geometry::Box reach(const Footprint& footprint, double distance_mm, const PassSegment& s) noexcept {
    const Reach r = segment_reach(footprint, distance_mm, s);
    const double x1 = s.x_mm + s.length_mm * s.dx;
    const double y1 = s.y_mm + s.length_mm * s.dy;
    // The left is (-dy, dx). The footprint is inside a box rotated with the segment.
    const auto side = [](double left, double right, double d) {
        return std::max(times(left, std::max(0.0, d)), times(right, std::max(0.0, -d)));
    };
    const double along_x = times(r.along, std::abs(s.dx)), along_y = times(r.along, std::abs(s.dy));
    return {std::min(s.x_mm, x1) - along_x - side(r.right, r.left, -s.dy),
            std::min(s.y_mm, y1) - along_y - side(r.right, r.left, s.dx),
            std::max(s.x_mm, x1) + along_x + side(r.left, r.right, -s.dy),
            std::max(s.y_mm, y1) + along_y + side(r.left, r.right, s.dx)};
}

geometry::Interval row_reach(const Footprint& footprint, double distance_mm, const PassSegment& s,
                             double y_mm) noexcept {
    const Reach r = segment_reach(footprint, distance_mm, s);
    const double py = y_mm - s.y_mm;
    geometry::Interval t{-kEndless_mm, kEndless_mm};
    narrow_interval(s.dx, py * s.dy - s.x_mm * s.dx, -r.along, s.length_mm + r.along, t);
    narrow_interval(-s.dy, py * s.dx + s.x_mm * s.dy, -r.right, r.left, t);
    return t;
}

}  // namespace fadewright::spray
