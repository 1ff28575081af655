// Pass segments: straight parts of a pass with linearly changing flow, on a flat panel, in closed form.
//
// With w(s) = w0 + w1 s the paint that lands per millimetre of travel, a segment of length L deposits
//
//     film(p, x) = integral from 0 to L of w(s) f(x, p - s) ds
//                = P(x) { (w0 + w1 p) [G(p) - G(p - L)] - w1 [M(p) - M(p - L)] }
//
// where P, G and M are the footprint's pass, cumulative share and first moment (footprint.h), so that ends
// and ramps are exact. Each segment has its own scale, so that the distance may differ from segment to
// segment.
//
// A gun with the heel angle t, tilted to the side of its travel, deposits at X beside the line of its axis
//
//     film(p, X) = cos t k^2 film'(k p, X k cos t),   k = d / (d + X sin t),
//
// with film' that of a square gun, in which k stretches every length along the travel: the paint flies
// farther on the far side, and lands obliquely. A gun with a lead angle has no closed form (puff.h).
//
// Symbols    p along the segment from its start, x, X beside it to the left, mm; w in mm2 (mm3 of landed
//            paint per mm); d distance along the axis
// Source: own derivation from the definition of a moving footprint, ends included; tilt: the law of spreading
//            rays on a tilted plane.
// Holds for  straight segments at constant speed and distance, heel angle of no more than kMaxHeel_rad
// Accuracy   that of footprint.h; a trigger that opens over a feather delivers in proportion
// Checks     tests/spray/pass_segment_test.cpp, tests/spray/heel_test.cpp,
//            tests/published/tilted_footprint.csv
#pragma once

#include "fadewright/geometry/plane.h"
#include "fadewright/spray/footprint.h"

#include <cmath>
#include <numbers>

namespace fadewright::spray {

struct PassSegment {
    double x_mm = 0, y_mm = 0;  // start
    double dx = 1, dy = 0;      // direction, a unit vector
    double length_mm = 0;
    double scale = 1;                   // distance over the gun's reference distance
    double w_start = 0, w_end = 0;      // landed paint per travel, mm2
    double heel_rad = 0, lead_rad = 0;  // radians (path.h)
};

inline constexpr double kMicrometresPerMillimetre = 1000;
inline constexpr double kMaxHeel_rad = 75 * std::numbers::pi / 180;

// Point beside the segment and along it, in millimetres at the reference distance.
struct SegmentPoint {
    double across;
    double along;
};

[[nodiscard]] inline SegmentPoint to_segment_frame(const PassSegment& s, double x_mm, double y_mm) noexcept {
    const double px = (x_mm - s.x_mm) / s.scale;
    const double py = (y_mm - s.y_mm) / s.scale;
    return {py * s.dx - px * s.dy, px * s.dx + py * s.dy};
}

// The footprint's slice on a line beside the segment: with a heel angle it is stretched along by 1/stretch
// and thinned. Constant along the segment.
struct CrossSection {
    Slice slice;
    double stretch = 1;
    double thinning = 1;
};

template <class F>
[[nodiscard]] CrossSection cross_section(const F& footprint, const PassSegment& s, double distance_mm,
                                         double across) noexcept {
    if (s.heel_rad == 0) return {footprint.slice(across), 1, 1};
    const double distance_along = distance_mm + across * std::sin(s.heel_rad);
    if (distance_along <= 0) return {{}, 1, 0};  // behind the nozzle
    const double k = distance_mm / distance_along;
    return {footprint.slice(across * std::cos(s.heel_rad) * k), k, std::cos(s.heel_rad) * k * k};
}

// Wet film of a segment without lead angle, in micrometres.
template <class F>
[[nodiscard]] double wet_um(const F& footprint, const PassSegment& s, const CrossSection& at,
                            double along) noexcept {
    const double L = s.length_mm / s.scale * at.stretch;
    const double p = along * at.stretch;
    if (p <= -at.slice.half_mm || p - L >= at.slice.half_mm) return 0;
    const double w1 = (s.w_end - s.w_start) / L;
    double landed = s.w_start + w1 * p;
    if (p < at.slice.half_mm || p - L > -at.slice.half_mm) {  // an end is near
        const Cumulative at_end = footprint.cumulative(at.slice, p);
        const Cumulative at_start = footprint.cumulative(at.slice, p - L);
        landed = landed * (at_end.share - at_start.share) - w1 * (at_end.moment - at_start.moment);
    }
    return kMicrometresPerMillimetre * at.thinning * at.slice.profile / s.scale * landed;
}

// distance_mm: the gun's reference distance.
template <class F>
[[nodiscard]] double wet_um(const F& footprint, const PassSegment& s, double distance_mm, double x_mm,
                            double y_mm) noexcept {
    const SegmentPoint at = to_segment_frame(s, x_mm, y_mm);
    return wet_um(footprint, s, cross_section(footprint, s, distance_mm, at.across), at.along);
}

// Support of a segment: its film is 0 outside the box, and in it, on the row y, outside row_reach.
[[nodiscard]] geometry::Box reach(const Footprint& footprint, double distance_mm,
                                  const PassSegment& segment) noexcept;
[[nodiscard]] geometry::Interval row_reach(const Footprint& footprint, double distance_mm,
                                           const PassSegment& segment, double y_mm) noexcept;

}  // namespace fadewright::spray
