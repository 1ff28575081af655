// Curves as short straight pieces.
//
// A smooth curve goes through every one of its points and turns evenly: a centripetal Catmull-Rom spline,
// which makes neither loops nor corners between points that lie unevenly. If the last point is the first, the
// curve closes without a corner. Pieces are cut until a piece strays from the curve by no more than the
// tolerance and turns by no more than kMostTurn.
//
// Source: [catmull1974]; [yuksel2011] (the centripetal spacing and its freedom from loops).
// Accuracy   the stated tolerance
// Checks     tests/spray/curve_test.cpp
#pragma once

#include "fadewright/spray/path.h"

#include <cstddef>
#include <numbers>
#include <span>
#include <vector>

namespace fadewright::spray {

inline constexpr double kMaxTurn_rad = 2 * std::numbers::pi / 180;
inline constexpr double kCurveTolerance_mm = 0.05;

// A line in straight pieces, and which of its corners are the places that it was drawn through.
struct Polyline {
    std::vector<double> x_mm, y_mm;
    std::vector<std::size_t> point_index;  // in increasing order, the first 0 and the last the last
};

[[nodiscard]] Polyline straight_polyline(std::span<const Point> points);
[[nodiscard]] Polyline smooth_polyline(std::span<const Point> points);
[[nodiscard]] Polyline arc_polyline(const Arc& arc);

}  // namespace fadewright::spray
