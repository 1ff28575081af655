#include "fadewright/spray/outline.h"

#include "edge_bvh.h"
#include "scanline_index.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace fadewright::spray {

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

}  // namespace fadewright::spray
