// How the gun moves: passes, and sweeps that make passes.
//
// Places are millimetres from the panel's lower left corner, x to the right, y up. A place is where the gun's
// axis meets the plane of the panel, and the distance is counted along that axis.
//
// A pass goes through its places in straight pieces or along a smooth curve, or along an arc. Speed and
// distance are the same all along, or are given at every place and change evenly with the way between them.
// The hand gets up to speed evenly over `run_up` and slows over `run_down`, so that the gun lingers there.
// A gun that swings about the elbow instead of being carried comes nearest in the middle of the pass: with
// the nozzle a radius R from the elbow, the axis leans by the angle a whose tangent is the way from the
// middle over (R + distance), and the way along the axis grows by R (1 / cos a - 1) + distance / cos a - distance.
//
// Tilt leans the gun to one side of the travel: positive throws the paint to the left of it. Lean points it
// along the travel: positive throws the paint ahead.
//
// The trigger opens and closes linearly over the feathers; if the way between `opens` and `closes` is shorter
// than both together, closing begins before the trigger is fully open, and the flow is the smaller of the two
// ramps.
//
// A sweep lays parallel passes over a rectangle, all in the same direction, each from edge to edge. The first
// lies on the edge on the side of `from` (moved inwards by `offset` spacings), the last is the last that
// fits. Their spacing is (1 - overlap) of pass_width() (footprint.h).
//
// Checks     tests/spray/path_test.cpp, tests/spray/route_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/spray/gun.h"

#include <optional>
#include <vector>

namespace fadewright::spray {

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

// What the hand does, whatever the way.
struct GunMotion {
    MillimetresPerSecond speed{300};  // above 0 (contract)
    std::vector<MillimetresPerSecond>
        speeds;                           // at every place, instead; none or as many as places (contract)
    std::optional<Millimetres> distance;  // nozzle to panel; none or 0: the gun's own
    std::vector<Millimetres> distances;   // at every place, instead
    Millimetres arc_radius;               // nozzle to elbow; 0: carried parallel to the panel
    Degrees heel_angle, lead_angle;
    Millimetres run_up, run_down;           // way over which the hand gets up to speed and slows to a stop
    int repeats = 1;                        // times the same path is laid, each in the same direction
    Millimetres feather_on, feather_off;    // way over which the trigger opens and closes
    Millimetres overrun;                    // path carried straight on beyond both ends
    std::optional<Millimetres> trigger_on;  // trigger pulled so far after the first place; none: at the start
    std::optional<Millimetres> trigger_off;  // and let go so far after the last; minus: before it

    friend bool operator==(const GunMotion&, const GunMotion&) = default;
};

// One movement of the gun. If no two points differ, the gun stands still for `dwell`, a fan upright (or turned
// by `turn`), and speed, feathers and overrun mean nothing; a pass that moves has no dwell.
struct Pass : GunMotion {
    std::vector<Point> points;  // at least one, if there is no arc (contract)
    bool smooth = false;        // a curve through the points; closed if it ends where it began
    std::optional<Arc> arc;     // instead of points: two places, its ends
    Seconds dwell;
    Degrees fan_angle;  // of a still gun's fan, anticlockwise

    friend bool operator==(const Pass&, const Pass&) = default;
};

struct Sweep : GunMotion {
    Point from, to;      // opposite corners
    Share overlap{0.5};  // below 1 (contract)
    Degrees direction;   // of travel, anticlockwise from left-to-right
    bool cross = false;  // a second set, a quarter turn on
    Share offset;        // of the spacing, for the first pass

    friend bool operator==(const Sweep&, const Sweep&) = default;
};

// An even dry film everywhere, however it is laid.
struct EvenCoat {
    Micrometres film;
    friend bool operator==(const EvenCoat&, const EvenCoat&) = default;
};

[[nodiscard]] Millimetres pass_spacing(const Sweep& sweep, const Gun& gun) noexcept;
[[nodiscard]] std::vector<Pass> sweep_passes(const Sweep& sweep, const Gun& gun);

// Width at half height of the narrowest thing the pass can lay: its footprint across or along. No feather or
// overlap makes anything finer.
[[nodiscard]] Millimetres min_width(const Gun& gun, const Pass& pass) noexcept;

}  // namespace fadewright::spray
