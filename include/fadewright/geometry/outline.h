// Outline of a piece, of a mask or of a region: closed rings of straight edges.
//
// A point is inside if a ray from it crosses the rings an odd number of times, so that a ring within a ring
// is a hole and several areas make one outline, whatever the direction of their rings. The last corner of a
// ring is joined to the first, which need not be repeated. A point exactly on an edge may count as either.
// Copies share their edges.
//
// Curves are approximated by edges that are nowhere further than kRoundTolerance_mm from the curve.
//
// Symbols    signed distance: to the nearest point of any ring, mm, negative inside
// Holds for  any rings of finite corners (contract), self-intersecting ones included. Without edges nothing
//            is inside and the distance is infinite
// Accuracy   distance, area and length are the polygon's to rounding. Offset rings: corners at the stated
//            distance within kOffsetAccuracy_mm, the line between them within kOffsetLineTolerance_mm. What is
//            left narrower than kOffsetLossShare of the offset may be lost
// Checks     tests/geometry/outline_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/geometry/contour.h"

#include <limits>
#include <memory>
#include <optional>
#include <vector>

namespace fadewright::geometry {

inline constexpr double kRoundTolerance_mm = 0.0005;
inline constexpr double kOffsetAccuracy_mm = 1e-6;
inline constexpr double kOffsetLineTolerance_mm = 0.005;
inline constexpr double kOffsetLossShare = 1e-4;
inline constexpr double kNoDistanceLimit = std::numeric_limits<double>::infinity();

// Signed distance and its gradient: a unit vector, pointing away from the inside.
struct DistanceGradient {
    double distance_mm;
    double dx, dy;
};

class Outline {
public:
    explicit Outline(std::vector<Ring> rings);

    // Lower left corner at the origin. A corner radius above half the shorter side counts as that.
    [[nodiscard]] static Outline rectangle(Millimetres width, Millimetres height, Millimetres corner_radius);
    [[nodiscard]] static Outline circle(PlanePoint centre, Millimetres radius);

    [[nodiscard]] bool inside(double x_mm, double y_mm) const noexcept;
    [[nodiscard]] double signed_distance_mm(double x_mm, double y_mm) const noexcept;
    // Beyond `max_distance_mm` the result is infinite with the right sign and no gradient, which is fast.
    [[nodiscard]] DistanceGradient distance_gradient(
        double x_mm, double y_mm, double max_distance_mm = kNoDistanceLimit) const noexcept;

    // Intervals of the row inside, from left to right.
    [[nodiscard]] std::vector<Interval> row_intervals(double y_mm) const;

    // Lines at a constant distance, negative: inside the outline. None where nothing is that far inside.
    // Each ring runs anticlockwise from its lowest corner; the ring with the lowest comes first.
    [[nodiscard]] std::vector<Ring> offset_rings(Millimetres offset) const;

    [[nodiscard]] double area_m2() const noexcept { return area_m2_; }
    [[nodiscard]] double length_mm() const noexcept { return length_mm_; }  // of all rings
    [[nodiscard]] Box bounds() const noexcept { return bounds_; }           // all zero without edges
    [[nodiscard]] bool empty() const noexcept { return rings_->empty(); }
    [[nodiscard]] const std::vector<Ring>& rings() const noexcept { return *rings_; }

    friend bool operator==(const Outline& a, const Outline& b) { return *a.rings_ == *b.rings_; }

private:
    struct Edges;  // search structures; private to outline.cpp

    std::shared_ptr<const std::vector<Ring>> rings_;
    std::shared_ptr<const Edges> edges_;
    Box bounds_{0, 0, 0, 0};
    double area_m2_ = 0;
    double length_mm_ = 0;
};

// Area inside the rings, self-intersecting ones included.
[[nodiscard]] double even_odd_area_mm2(const std::vector<Ring>& rings);

// A point where the ring crosses itself or runs back over itself. Touching itself at a point is not crossing.
[[nodiscard]] std::optional<PlanePoint> self_crossing(const Ring& ring);

}  // namespace fadewright::geometry
