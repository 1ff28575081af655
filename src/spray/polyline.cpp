#include "fadewright/spray/polyline.h"

#include <algorithm>
#include <cmath>

namespace fadewright::spray {
namespace {

struct Vec {
    double x, y;
};

Vec operator+(Vec a, Vec b) { return {a.x + b.x, a.y + b.y}; }
Vec operator-(Vec a, Vec b) { return {a.x - b.x, a.y - b.y}; }
Vec operator*(double k, Vec a) { return {k * a.x, k * a.y}; }

// One span of the spline between b and c, by the Barry-Goldman pyramid.
struct SplineSegment {
    Vec a, b, c, d;
    double t0, t1, t2, t3;

    SplineSegment(Vec a_, Vec b_, Vec c_, Vec d_) : a(a_), b(b_), c(c_), d(d_) {
        const auto root = [](Vec u, Vec v) { return std::sqrt(std::hypot(v.x - u.x, v.y - u.y)); };
        t0 = 0;
        t1 = t0 + root(a, b);
        t2 = t1 + root(b, c);
        t3 = t2 + root(c, d);
    }

    [[nodiscard]] Vec at(double share) const {
        const double t = t1 + share * (t2 - t1);
        const auto blend = [t](Vec u, Vec v, double from, double to) {
            return (to - t) / (to - from) * u + (t - from) / (to - from) * v;
        };
        const Vec ab = blend(a, b, t0, t1), bc = blend(b, c, t1, t2), cd = blend(c, d, t2, t3);
        return blend(blend(ab, bc, t0, t2), blend(bc, cd, t1, t3), t1, t2);
    }
};

double turn_between(Vec u, Vec v) {
    return std::abs(std::atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y));
}

// Adds the curve from share s0 to s1, without its first point.
void add_spline_segment(const SplineSegment& spline, double s0, Vec p0, double s1, Vec p1, int depth,
                        Polyline& line) {
    constexpr int min_depth = 2, max_depth = 12;
    const double sm = (s0 + s1) / 2;
    const Vec middle = spline.at(sm);
    const Vec deviation = middle - 0.5 * (p0 + p1);
    const bool straight = std::hypot(deviation.x, deviation.y) <= kCurveTolerance_mm &&
                          turn_between(middle - p0, p1 - middle) <= kMaxTurn_rad / 2;
    if (depth >= max_depth || (depth >= min_depth && straight)) {
        line.x_mm.push_back(p1.x);
        line.y_mm.push_back(p1.y);
        return;
    }
    add_spline_segment(spline, s0, p0, sm, middle, depth + 1, line);
    add_spline_segment(spline, sm, middle, s1, p1, depth + 1, line);
}

// Points without consecutive repeats.
std::vector<Vec> remove_repeats(std::span<const Point> points) {
    std::vector<Vec> out;
    for (const Point& p : points)
        if (out.empty() || out.back().x != p.x.value || out.back().y != p.y.value)
            out.push_back({p.x.value, p.y.value});
    return out;
}

}  // namespace

Polyline straight_polyline(std::span<const Point> points) {
    Polyline line;
    for (const Vec& p : remove_repeats(points)) {
        line.point_index.push_back(line.x_mm.size());
        line.x_mm.push_back(p.x);
        line.y_mm.push_back(p.y);
    }
    return line;
}

Polyline smooth_polyline(std::span<const Point> points) {
    const std::vector<Vec> p = remove_repeats(points);
    if (p.size() < 3) return straight_polyline(points);
    const std::size_t last = p.size() - 1;
    const bool closed = p[0].x == p[last].x && p[0].y == p[last].y;
    const Vec before = closed ? p[last - 1] : 2 * p[0] - p[1];
    const Vec after = closed ? p[1] : 2 * p[last] - p[last - 1];
    Polyline line;
    line.x_mm.push_back(p[0].x);
    line.y_mm.push_back(p[0].y);
    line.point_index.push_back(0);
    for (std::size_t i = 0; i < last; ++i) {
        const SplineSegment spline(i == 0 ? before : p[i - 1], p[i], p[i + 1],
                                   i + 1 == last ? after : p[i + 2]);
        add_spline_segment(spline, 0, p[i], 1, p[i + 1], 0, line);
        line.point_index.push_back(line.x_mm.size() - 1);
    }
    return line;
}

Polyline arc_polyline(const Arc& arc) {
    const double from = radians(arc.from);
    const double sweep_angle = (arc.to.value - arc.from.value) * std::numbers::pi / 180;
    const double r = arc.radius.value;
    // A chord over an angle a deviates by r (1 - cos(a/2)), about r a^2 / 8.
    const double by_stray = std::sqrt(8 * kCurveTolerance_mm / std::max(r, kCurveTolerance_mm));
    const int pieces =
        std::max(1, static_cast<int>(std::ceil(std::abs(sweep_angle) / std::min(by_stray, kMaxTurn_rad))));
    Polyline line;
    for (int i = 0; i <= pieces; ++i) {
        const double angle = from + sweep_angle * i / pieces;
        line.x_mm.push_back(arc.centre.x.value + r * std::cos(angle));
        line.y_mm.push_back(arc.centre.y.value + r * std::sin(angle));
    }
    line.point_index = {0, line.x_mm.size() - 1};
    return line;
}

}  // namespace fadewright::spray
