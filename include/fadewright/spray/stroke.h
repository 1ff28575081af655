// Strokes: a pass cut into straight pieces over which the flow changes linearly.
//
// With w(s) = w0 + w1 s the paint that lands per millimetre of travel, a stroke of length L lays
//
//     film(p, x) = integral from 0 to L of w(s) f(x, p - s) ds
//                = P(x) { (w0 + w1 p) [G(p) - G(p - L)] - w1 [M(p) - M(p - L)] }
//
// where P, G and M are the footprint's pass, share gone by and first moment (footprint.h), so that ends and
// ramps are exact. Each stroke carries its own scale, so that the distance may differ from stroke to stroke.
//
// Symbols    p along the stroke from its start, x beside it, mm; w in mm2 (mm3 of landed paint per mm)
// Source     the definition of a moving footprint; the ends are our own algebra
// Holds for  straight strokes at constant speed and distance
// Accuracy   that of footprint.h; a trigger that opens over a feather delivers in proportion
// Checks     tests/spray/stroke_test.cpp
#pragma once

#include "fadewright/spray/footprint.h"
#include "fadewright/spray/path.h"

#include <cmath>
#include <vector>

namespace fadewright::spray {

struct Stroke {
    double x_mm, y_mm;  // where it starts
    double dx, dy;      // its direction, a unit vector
    double length_mm;
    double scale;           // distance over the gun's reference distance
    double w_start, w_end;  // landed paint per travel, mm2
};

// A still gun; a fan stands upright.
struct Burst {
    double x_mm, y_mm;
    double scale;
    double landed_mm3;
};

struct Strokes {
    std::vector<Stroke> strokes;
    std::vector<Burst> bursts;
};

// Liquid that leaves the gun on a pass, all repeats, and how long the trigger is pulled.
struct Used {
    Millilitres sprayed;
    Seconds trigger;
};

// Adds the pieces of one pass (contracts of path.h) and returns what it uses.
Used add_strokes(const Gun& gun, const Pass& pass, Strokes& pieces);

inline constexpr double kMicrometresPerMillimetre = 1000;

// Place beside the stroke and along it, in millimetres at the gun's reference distance.
struct Alongside {
    double across;
    double along;
};

[[nodiscard]] inline Alongside alongside(const Stroke& s, double x_mm, double y_mm) noexcept {
    const double px = (x_mm - s.x_mm) / s.scale;
    const double py = (y_mm - s.y_mm) / s.scale;
    return {py * s.dx - px * s.dy, px * s.dx + py * s.dy};
}

// Wet film of a stroke, in micrometres, where the footprint's cut is known.
template <class F>
[[nodiscard]] double wet_um(const F& footprint, const Stroke& s, Cut cut, double p) noexcept {
    const double L = s.length_mm / s.scale;
    if (p <= -cut.half_mm || p - L >= cut.half_mm) return 0;
    const Passed now = footprint.passed(cut, p);
    const Passed before = footprint.passed(cut, p - L);
    const double w1 = (s.w_end - s.w_start) / L;
    const double laid = (s.w_start + w1 * p) * (now.share - before.share) - w1 * (now.moment - before.moment);
    return kMicrometresPerMillimetre * cut.profile / s.scale * laid;
}

// Wet film of one stroke or burst at a place, in micrometres.
template <class F>
[[nodiscard]] double wet_um(const F& footprint, const Stroke& s, double x_mm, double y_mm) noexcept {
    const Alongside at = alongside(s, x_mm, y_mm);
    return wet_um(footprint, s, footprint.cut(at.across), at.along);
}

template <class F>
[[nodiscard]] double wet_um(const F& footprint, const Burst& b, double x_mm, double y_mm) noexcept {
    const double across = (y_mm - b.y_mm) / b.scale;
    const double along = (x_mm - b.x_mm) / b.scale;
    if (std::abs(across) >= footprint.reach_across_mm() || std::abs(along) >= footprint.reach_along_mm())
        return 0;
    return kMicrometresPerMillimetre * b.landed_mm3 * footprint.at(across, along) / (b.scale * b.scale);
}

// Where a piece can lay anything: nothing outside the box, and in it, on the row y, only inside row_reach.
struct Box {
    double x0, y0, x1, y1;
};
struct Interval {
    double from, to;  // empty if from > to
};

[[nodiscard]] Box reach(const Footprint& footprint, const Stroke& stroke) noexcept;
[[nodiscard]] Box reach(const Footprint& footprint, const Burst& burst) noexcept;
[[nodiscard]] Interval row_reach(const Footprint& footprint, const Stroke& stroke, double y_mm) noexcept;
[[nodiscard]] Interval row_reach(const Footprint& footprint, const Burst& burst, double y_mm) noexcept;

}  // namespace fadewright::spray
