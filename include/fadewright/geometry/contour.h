// Contours: closed lines round everything that is inside, traced on a grid of nodes.
//
// The grid states for every node whether it is inside; the caller gives the exact crossing of the line
// between two neighbours (by root finding or interpolation). Ambiguous cells, whose corners alternate, are
// decided by their centre.
//
// Rings are closed: the last corner is joined to the first, which is not repeated. Every ring runs
// anticlockwise round what it encloses (rows of the grid counted upwards) and begins at its lowest corner.
//
// Source: [douglas1973] (simplifying); marching squares: common practice, no source.
// Holds for  grids whose outermost nodes are all outside (contract). Features narrower than a cell may be
//            lost
// Checks     tests/geometry/outline_test.cpp
#pragma once

#include "fadewright/geometry/plane.h"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <utility>
#include <vector>

namespace fadewright::geometry {

struct GridNodes {
    int columns = 0;
    int rows = 0;
    std::vector<std::uint8_t> inside;  // row by row from the lowest

    GridNodes(int c, int r)
        : columns(c), rows(r), inside(static_cast<std::size_t>(c) * static_cast<std::size_t>(r)) {}
    [[nodiscard]] std::size_t index(int column, int row) const noexcept {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
               static_cast<std::size_t>(column);
    }
};

struct GridNode {
    int column, row;
};

struct Crossings {
    std::function<PlanePoint(GridNode in, GridNode out)> crossing;  // of the line between two neighbours
    std::function<bool(GridNode lower_left)> centre_inside;         // is the centre of this cell inside
};

[[nodiscard]] std::vector<Ring> contours(const GridNodes& grid, const Crossings& crossings);

// Sorts by height, then from left to right. Heights within rounding errors are the same.
[[nodiscard]] std::pair<double, double> lowest_first(const PlanePoint& p) noexcept;

// Turns the ring to run anticlockwise from its lowest corner (the leftmost of several).
void start_at_lowest(Ring& ring);

// The fewest of the ring's corners that keep every other one within the tolerance of the line.
[[nodiscard]] Ring simplify(const Ring& ring, double tolerance_mm);

// Area inside the ring: positive if it runs anticlockwise.
[[nodiscard]] double signed_area_mm2(const Ring& ring) noexcept;

}  // namespace fadewright::geometry
