// Bounding-volume hierarchy of straight edges: fast search for the nearest point.
//
// Consecutive edges of a line are close to each other, so the tree simply bisects their sequence.
//
// Accuracy   exact to rounding
// Checks     tests/geometry/outline_test.cpp
#pragma once

#include "fadewright/geometry/contour.h"

#include <cstddef>
#include <limits>
#include <vector>

namespace fadewright::geometry {

struct Edge {
    double ax, ay, bx, by;
};

enum class LineEnds { joined, open };  // joined: the last corner to the first

class EdgeBvh {
public:
    EdgeBvh(const std::vector<Ring>& lines,
            LineEnds ends);  // finite corners (contract); edges of no length are dropped

    struct Nearest {
        double squared_mm2;  // infinite if no edge is that near
        double x_mm, y_mm;   // the nearest point
        std::size_t edge;
    };
    // Nearest point within `max_distance_mm`.
    [[nodiscard]] Nearest nearest(
        double x_mm, double y_mm,
        double max_distance_mm = std::numeric_limits<double>::infinity()) const noexcept;

    [[nodiscard]] const std::vector<Edge>& edges() const noexcept { return edges_; }

private:
    struct Node {
        double x0, y0, x1, y1;
        std::size_t first, last;  // edges
        std::size_t right = 0;    // the left half follows its parent; 0: a leaf
    };
    std::size_t build(std::size_t first, std::size_t last);

    std::vector<Edge> edges_;
    std::vector<Node> nodes_;
};

// Scanline index: edges sorted into buckets by height; the intervals of a row inside, by the even-odd rule.
//
// An edge includes its lower end and excludes its upper end; so a row through a corner is counted once or
// twice as needed, and horizontal edges are never met.
//
// Checks     tests/geometry/outline_test.cpp

class ScanlineIndex {
public:
    explicit ScanlineIndex(const std::vector<Edge>& edges);

    [[nodiscard]] bool inside(double x_mm, double y_mm) const noexcept;
    [[nodiscard]] std::vector<Interval> intervals(double y_mm) const;

private:
    struct RisingEdge {
        double x0, y0, y1;  // from its lower end up to y1
        double slope;       // dx per dy
        [[nodiscard]] bool crosses(double y) const noexcept { return y0 <= y && y < y1; }
        [[nodiscard]] double x_at(double y) const noexcept { return x0 + (y - y0) * slope; }
    };
    [[nodiscard]] std::size_t bucket_at(double y_mm) const noexcept;

    double low_ = 0, high_ = 0;
    double buckets_per_mm_ = 0;
    std::vector<std::size_t> first_;  // of each bucket in edges_; one more at the end
    std::vector<RisingEdge> edges_;   // bucket by bucket, some in several
};

}  // namespace fadewright::geometry
