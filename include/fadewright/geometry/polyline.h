// Polylines: curves flattened to short straight lines.
//
// A smooth curve passes through every one of its points: a centripetal Catmull-Rom spline, which makes
// neither loops nor cusps between unevenly spaced points. If the last point is the first, the curve closes
// without a corner. Lines are halved until each deviates from the curve by no more than the tolerance and
// turns by no more than kMaxTurn_rad.
//
// Source: [catmull1974]; [yuksel2011] (the centripetal spacing and its freedom from loops).
// Accuracy   the stated tolerance
// Checks     tests/geometry/polyline_test.cpp
#pragma once

#include "fadewright/geometry/plane.h"

#include <cstddef>
#include <numbers>
#include <span>
#include <vector>

namespace fadewright::geometry {

inline constexpr double kMaxTurn_rad = 2 * std::numbers::pi / 180;
inline constexpr double kCurveTolerance_mm = 0.05;
inline constexpr double kOffsetPathTolerance_mm = 0.02;
inline constexpr double kOffsetPathShare = 2e-4;  // sagitta of arcs over kMaxTurn_rad

// A polyline, and the indices of those of its corners that are points of the path.
struct Polyline {
    std::vector<double> x_mm, y_mm;
    std::vector<std::size_t> point_index;  // in increasing order, the first 0 and the last the last
};

[[nodiscard]] Polyline straight_polyline(std::span<const Point> points);
[[nodiscard]] Polyline smooth_polyline(std::span<const Point> points);
[[nodiscard]] Polyline arc_polyline(const Arc& arc);

// Part of a line at a constant distance from a polyline. `corner` holds for each point the place of the
// polyline nearest to it, counted in corners: 1.25 is a quarter of the length from corner 1 to corner 2.
struct OffsetPolyline {
    std::vector<Point> points;
    std::vector<double> corner;
};

// The line to the left of the polyline, to its right if the offset is negative, in the same direction. It goes
// round outer corners in arcs. Where an inner side is narrower than the offset it is left out, and several parts
// or none may be left. At the two ends it stops beside the end. An offset of 0 is the polyline.
// Accuracy   kOffsetPathTolerance_mm and kOffsetPathShare of the offset
[[nodiscard]] std::vector<OffsetPolyline> offset_polyline(const Polyline& line, Millimetres offset);

}  // namespace fadewright::geometry
