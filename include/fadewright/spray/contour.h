// Contours: the closed lines round everything that is inside, found on a grid of nodes.
//
// The grid says of every node whether it is inside; the caller says where exactly the line crosses between
// two neighbours (a root, or an interpolation). Cells whose corners alternate are told apart by their middle.
//
// Rings close themselves: the last corner is joined to the first, which is not repeated. Every ring runs
// anticlockwise round what it encloses (rows of the grid counted upwards) and begins at its lowest corner.
//
// Source: [douglas1973] (simplifying); marching squares: common practice, no source.
// Holds for  grids whose outermost nodes are all outside (contract). What is narrower than a cell may be lost
// Checks     tests/spray/outline_test.cpp
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

namespace fadewright::spray {

struct PlanePoint {
    double x_mm, y_mm;
    friend bool operator==(const PlanePoint&, const PlanePoint&) = default;
};

using Ring = std::vector<PlanePoint>;

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
    std::function<PlanePoint(GridNode in, GridNode out)> crossing;  // where the line passes two neighbours
    std::function<bool(GridNode lower_left)> centre_inside;         // is the middle of this cell inside
};

[[nodiscard]] std::vector<Ring> contours(const GridNodes& grid, const Crossings& crossings);

// As few of the ring's corners as keep every other one within the tolerance of the line.
[[nodiscard]] Ring simplify(const Ring& ring, double tolerance_mm);

// Area inside the ring: positive if it runs anticlockwise.
[[nodiscard]] double signed_area_mm2(const Ring& ring) noexcept;

}  // namespace fadewright::spray
