#include "fadewright/geometry/outline.h"

#include "fadewright/geometry/edge_index.h"
#include "geos.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string_view>
#include <utility>

namespace fadewright::geometry {
namespace {

constexpr double kArcTolerance_mm = kOffsetLineTolerance_mm / 4;
constexpr double kSimplifyTolerance_mm = kOffsetLineTolerance_mm / 2;
constexpr int kMaxCorrections = 60;
constexpr double kOtherEdge_sin = 0.01;  // between the directions of two edges; less is one curve

// Number of edges in a quarter of an arc, for a sagitta within the tolerance.
int quadrant_segments(double radius) {
    const double angle = 2 * std::acos(std::max(0.0, 1 - kArcTolerance_mm / radius));
    return std::max(1, static_cast<int>(std::ceil(std::numbers::pi / 2 / angle)));
}

// GEOS omits shallow corners of the outline and replaces arcs by chords, so that its offset is a few micrometres
// off. Each correction is a step along the gradient. Where two edges are equally near, that would only alternate
// between them; so after a step for one edge, the step for another keeps the distance from the first.
PlanePoint corrected(const Outline& outline, PlanePoint p, double offset) {
    double along_x = 0, along_y = 0;  // of the edge of the last step
    for (int i = 0; i < kMaxCorrections; ++i) {
        const DistanceGradient at = outline.distance_gradient(p.x_mm, p.y_mm);
        const double excess = at.distance_mm - offset;
        if (std::abs(excess) < kOffsetAccuracy_mm / 2) break;
        const double slope = at.dx * along_x + at.dy * along_y;
        p = std::abs(slope) > kOtherEdge_sin
                ? PlanePoint{p.x_mm - excess / slope * along_x, p.y_mm - excess / slope * along_y}
                : PlanePoint{p.x_mm - excess * at.dx, p.y_mm - excess * at.dy};
        along_x = -at.dy;
        along_y = at.dx;
    }
    return p;
}

}  // namespace

struct Outline::Edges {
    EdgeBvh tree;
    ScanlineIndex scanlines;

    explicit Edges(const std::vector<Ring>& rings) : tree(rings, LineEnds::joined), scanlines(tree.edges()) {}
};

namespace {

constexpr double kOnTheEdge_mm = 1e-9;      // nearer, the gradient is the edge's normal
constexpr double kBesideTheEdge_mm = 1e-6;  // test distance for the inside of an edge

// Angle that one edge may span on a circle.
double max_step_angle(double radius) { return 2 * std::acos(std::max(0.0, 1 - kRoundTolerance_mm / radius)); }

// Adds an arc that turns left, both ends included.
void add_arc(Ring& ring, double cx, double cy, double radius, double from, double sweep) {
    const int steps = radius > 0 ? static_cast<int>(std::ceil(sweep / max_step_angle(radius))) : 0;
    for (int i = 0; i <= steps; ++i) {
        const double angle = from + (steps > 0 ? sweep * i / steps : 0.0);
        ring.push_back({cx + radius * std::cos(angle), cy + radius * std::sin(angle)});
    }
}

}  // namespace

Outline::Outline(std::vector<Ring> rings) {
    std::erase_if(rings, [](const Ring& ring) { return ring.size() < 3; });
    edges_ = std::make_shared<const Edges>(rings);
    rings_ = std::make_shared<const std::vector<Ring>>(std::move(rings));
    const std::vector<Edge>& edges = edges_->tree.edges();
    if (edges.empty()) return;
    constexpr double inf = std::numeric_limits<double>::infinity();
    bounds_ = {inf, inf, -inf, -inf};
    for (const Edge& e : edges) {
        bounds_ = {std::min(bounds_.x0, e.ax), std::min(bounds_.y0, e.ay), std::max(bounds_.x1, e.ax),
                   std::max(bounds_.y1, e.ay)};
        length_mm_ += std::hypot(e.bx - e.ax, e.by - e.ay);
    }
    area_m2_ = even_odd_area_mm2(*rings_) / kSquareMillimetresPerSquareMetre;
}

Outline Outline::rectangle(Millimetres width, Millimetres height, Millimetres corner_radius) {
    const double w = width.value, h = height.value;
    const double r = std::clamp(corner_radius.value, 0.0, std::min(w, h) / 2);
    constexpr double quarter = std::numbers::pi / 2;
    Ring ring;
    add_arc(ring, r, r, r, -2 * quarter, quarter);
    add_arc(ring, w - r, r, r, -quarter, quarter);
    add_arc(ring, w - r, h - r, r, 0, quarter);
    add_arc(ring, r, h - r, r, quarter, quarter);
    return Outline({ring});
}

Outline Outline::circle(PlanePoint centre, Millimetres radius) {
    Ring ring;
    add_arc(ring, centre.x_mm, centre.y_mm, radius.value, 0, 2 * std::numbers::pi);
    ring.pop_back();  // repeats the first corner
    return Outline({ring});
}

bool Outline::inside(double x_mm, double y_mm) const noexcept {
    if (x_mm < bounds_.x0 || x_mm > bounds_.x1) return false;
    return edges_->scanlines.inside(x_mm, y_mm);
}

double Outline::signed_distance_mm(double x_mm, double y_mm) const noexcept {
    const double distance = std::sqrt(edges_->tree.nearest(x_mm, y_mm).squared_mm2);
    return inside(x_mm, y_mm) ? -distance : distance;
}

DistanceGradient Outline::distance_gradient(double x_mm, double y_mm, double max_distance_mm) const noexcept {
    const EdgeBvh::Nearest n = edges_->tree.nearest(x_mm, y_mm, max_distance_mm);
    const double distance = std::sqrt(n.squared_mm2);
    const double side = inside(x_mm, y_mm) ? -1 : 1;
    if (std::isinf(distance)) return {side * distance, 0, 0};
    if (distance > kOnTheEdge_mm)
        return {side * distance, side * (x_mm - n.x_mm) / distance, side * (y_mm - n.y_mm) / distance};
    const Edge& e = edges_->tree.edges()[n.edge];
    const double length = std::hypot(e.bx - e.ax, e.by - e.ay);
    const double nx = (e.by - e.ay) / length, ny = (e.ax - e.bx) / length;
    const bool points_inside = inside(n.x_mm + kBesideTheEdge_mm * nx, n.y_mm + kBesideTheEdge_mm * ny);
    return {side * distance, points_inside ? -nx : nx, points_inside ? -ny : ny};
}

std::vector<Interval> Outline::row_intervals(double y_mm) const { return edges_->scanlines.intervals(y_mm); }

std::vector<Ring> Outline::offset_rings(Millimetres offset) const {
    if (empty()) return {};
    const Geos geos;
    const Geos::Shape area = geos.even_odd_area(*rings_);
    const Geos::Shape offset_area = geos.own(
        GEOSBuffer_r(geos.context(), area.get(), offset.value, quadrant_segments(std::abs(offset.value))));
    std::vector<Ring> rings;
    for (Ring& ring : geos.rings_of(offset_area.get())) {
        for (PlanePoint& p : ring) p = corrected(*this, p, offset.value);
        start_at_lowest(ring);
        Ring simplified = simplify(ring, kSimplifyTolerance_mm);
        if (simplified.size() >= 3) rings.push_back(std::move(simplified));
    }
    std::sort(rings.begin(), rings.end(),
              [](const Ring& a, const Ring& b) { return lowest_first(a[0]) < lowest_first(b[0]); });
    return rings;
}

double even_odd_area_mm2(const std::vector<Ring>& rings) {
    if (rings.empty()) return 0;
    const Geos geos;
    double area = 0;
    GEOSArea_r(geos.context(), geos.even_odd_area(rings).get(), &area);
    return area;
}

std::optional<PlanePoint> self_crossing(const Ring& ring) {
    const Geos geos;
    char* reason = nullptr;
    GEOSGeometry* location = nullptr;
    const Geos::Shape polygon = geos.polygon(ring);
    GEOSisValidDetail_r(geos.context(), polygon.get(), GEOSVALID_ALLOW_SELFTOUCHING_RING_FORMING_HOLE,
                        &reason, &location);
    const bool crosses = reason && std::string_view(reason) == "Self-intersection";
    GEOSFree_r(geos.context(), reason);
    if (!location) return std::nullopt;
    const Geos::Shape owned = geos.own(location);
    PlanePoint at{};
    GEOSGeomGetX_r(geos.context(), location, &at.x_mm);
    GEOSGeomGetY_r(geos.context(), location, &at.y_mm);
    return crosses ? std::optional(at) : std::nullopt;
}

}  // namespace fadewright::geometry
