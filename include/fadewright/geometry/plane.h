// Points, boxes and rings in the plane of the panel: millimetres from its lower left corner, x to the right, y up.
#pragma once

#include "fadewright/base/quantity.h"

#include <vector>

namespace fadewright::geometry {

// A place on the panel, as plans and passes state it.
struct Point {
    Millimetres x, y;
    friend bool operator==(const Point&, const Point&) = default;
};

// Anticlockwise if `to` is more than `from`.
struct Arc {
    Point centre;
    Millimetres radius;
    Degrees from, to;  // of the radius, anticlockwise from left-to-right
    friend bool operator==(const Arc&, const Arc&) = default;
};

// A point in plain numbers, for calculations with many of them.
struct PlanePoint {
    double x_mm, y_mm;
    friend bool operator==(const PlanePoint&, const PlanePoint&) = default;
};

// Corners of a closed line; the last is joined to the first, which is not repeated.
using Ring = std::vector<PlanePoint>;

struct Box {
    double x0, y0, x1, y1;
};

struct Interval {
    double from, to;  // empty if from > to
};

}  // namespace fadewright::geometry
