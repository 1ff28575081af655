#include "fadewright/geometry/polyline.h"

#include "fadewright/geometry/edge_index.h"
#include "geos.h"

#include <algorithm>
#include <cmath>

namespace fadewright::geometry {
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

constexpr double kMinDistanceShare = 0.98;  // of the offset; nearer pieces pass another part of the line
constexpr int kQuadrantSegments = 45;       // edges over kMaxTurn_rad
constexpr double kMitreLimit = 1;           // without effect: joins are round

static_assert(kQuadrantSegments * kMaxTurn_rad >= std::numbers::pi / 2 - 1e-12);

class LineFeet {
public:
    explicit LineFeet(const std::vector<PlanePoint>& points) : tree_({points}, LineEnds::open) {}

    [[nodiscard]] double distance_mm(PlanePoint p) const {
        return std::sqrt(tree_.nearest(p.x_mm, p.y_mm).squared_mm2);
    }
    [[nodiscard]] double corner(PlanePoint p) const {
        const EdgeBvh::Nearest foot = tree_.nearest(p.x_mm, p.y_mm);
        const Edge& edge = tree_.edges()[foot.edge];
        return static_cast<double>(foot.edge) + std::hypot(foot.x_mm - edge.ax, foot.y_mm - edge.ay) /
                                                    std::hypot(edge.bx - edge.ax, edge.by - edge.ay);
    }

private:
    EdgeBvh tree_;
};

// The pieces of an offset line that keep their distance from the whole line.
void add_parts(const std::vector<PlanePoint>& offset_line, const LineFeet& feet, double min_distance_mm,
               std::vector<OffsetPolyline>& parts) {
    bool joined = false;  // to the piece before
    for (std::size_t i = 0; i + 1 < offset_line.size(); ++i) {
        const PlanePoint a = offset_line[i], b = offset_line[i + 1];
        const PlanePoint middle{(a.x_mm + b.x_mm) / 2, (a.y_mm + b.y_mm) / 2};
        const bool keeps_distance = feet.distance_mm(middle) >= min_distance_mm;
        const auto add_point = [&](PlanePoint p) {
            parts.back().points.push_back({Millimetres{p.x_mm}, Millimetres{p.y_mm}});
            parts.back().corner.push_back(feet.corner(p));
        };
        if (keeps_distance && !joined) {
            parts.emplace_back();
            add_point(a);
        }
        if (keeps_distance) add_point(b);
        joined = keeps_distance;
    }
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

std::vector<OffsetPolyline> offset_polyline(const Polyline& line, Millimetres offset) {
    std::vector<PlanePoint> points;
    for (std::size_t i = 0; i < line.x_mm.size(); ++i) points.push_back({line.x_mm[i], line.y_mm[i]});
    std::vector<OffsetPolyline> parts;
    if (points.size() < 2) return parts;
    const Geos geos;
    const Geos::Shape path = geos.line(points);
    const Geos::Shape curve = geos.own(GEOSOffsetCurve_r(geos.context(), path.get(), offset.value,
                                                         kQuadrantSegments, GEOSBUF_JOIN_ROUND, kMitreLimit));
    const Geos::Shape simplified =
        geos.own(GEOSSimplify_r(geos.context(), curve.get(), kOffsetPathTolerance_mm));
    const LineFeet feet(points);
    for (const std::vector<PlanePoint>& offset_line : geos.lines_of(simplified.get()))
        add_parts(offset_line, feet, kMinDistanceShare * std::abs(offset.value), parts);
    return parts;
}

}  // namespace fadewright::geometry
