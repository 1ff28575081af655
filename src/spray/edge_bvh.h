// Bounding-volume hierarchy of straight edges: fast search for the nearest point.
//
// Consecutive edges of a line are close to each other, so the tree simply bisects their sequence.
//
// Accuracy   exact to rounding
// Checks     tests/spray/outline_test.cpp
#pragma once

#include "fadewright/spray/contour.h"

#include <cstddef>
#include <limits>
#include <vector>

namespace fadewright::spray {

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

}  // namespace fadewright::spray
