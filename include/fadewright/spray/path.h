// Motion of the gun: passes, and sweeps that make passes.
//
// Points are in millimetres from the panel's lower left corner, x to the right, y up. A point is where the
// gun's axis meets the plane of the panel, and the distance is counted along that axis.
//
// A pass goes through its points in straight lines, along a smooth curve, or along an arc. Speed and distance
// are constant, or are given at every point and linear in path length between them. The gun accelerates
// uniformly over `run_up` and slows over `run_down`, so that it lingers there. A gun that arcs about the
// elbow instead of moving parallel to the panel is nearest in the middle of the pass: with the nozzle a
// radius R from the elbow, the axis leads by the angle a whose tangent is the path from the middle over (R +
// distance), and the distance along the axis grows by R (1 / cos a - 1) + distance / cos a - distance.
//
// The heel angle tilts the gun to one side of the travel: positive sprays to the left of it. The lead angle
// tilts it along the travel: positive sprays ahead.
//
// The trigger opens and closes linearly over the feathers; if the path between `trigger_on` and `trigger_off`
// is shorter than both together, closing begins before the trigger is fully open, and the flow is the smaller
// of the two ramps.
//
// A sweep is a set of parallel passes over a rectangle, all in the same direction, each from edge to edge.
// The first lies on the edge on the side of `from` (moved inwards by `offset` spacings), the last is the last
// that fits. Their spacing is (1 - overlap) of pass_width() (footprint.h).
//
// Checks     tests/spray/path_test.cpp, tests/spray/flatten_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/geometry/plane.h"
#include "fadewright/spray/gun.h"

#include <optional>
#include <vector>

namespace fadewright::spray {

// Motion of the gun along any path.
struct GunMotion {
    MillimetresPerSecond speed{300};  // above 0 (contract)
    std::vector<MillimetresPerSecond>
        speeds;                           // at every point, instead; none or as many as points (contract)
    std::optional<Millimetres> distance;  // nozzle to panel; none or 0: the gun's own
    std::vector<Millimetres> distances;   // at every point, instead
    Millimetres arc_radius;               // nozzle to elbow; 0: moved parallel to the panel
    Degrees heel_angle, lead_angle;
    Millimetres run_up, run_down;            // path over which the gun accelerates and slows to a stop
    int repeats = 1;                         // times the same path is sprayed, each in the same direction
    Millimetres feather_on, feather_off;     // path over which the trigger opens and closes
    Millimetres overrun;                     // straight extension of the path beyond both ends
    std::optional<Millimetres> trigger_on;   // trigger pulled, after the first point; none: at the start
    std::optional<Millimetres> trigger_off;  // trigger released, after the last point; negative: before it

    friend bool operator==(const GunMotion&, const GunMotion&) = default;
};

// One movement of the gun. If no two points differ, it is a spot: the gun stands still for `dwell`, a fan
// upright (or turned by `fan_angle`), and speed, feathers and overrun are ignored; a pass that moves has no
// dwell.
struct Pass : GunMotion {
    std::vector<geometry::Point> points;  // at least one, if there is no arc (contract)
    bool smooth = false;                  // a curve through the points; closed if it ends where it began
    std::optional<geometry::Arc> arc;     // instead of points: two points, its ends
    Seconds dwell;
    Degrees fan_angle;  // of a still gun's fan, anticlockwise

    friend bool operator==(const Pass&, const Pass&) = default;
};

struct Sweep : GunMotion {
    geometry::Point from, to;  // opposite corners
    Share overlap{0.5};        // below 1 (contract)
    Degrees direction;         // of travel, anticlockwise from left-to-right
    bool cross = false;        // a second set at 90 degrees
    Share offset;              // of the spacing, for the first pass

    friend bool operator==(const Sweep&, const Sweep&) = default;
};

// A uniform dry film everywhere, by whatever method.
struct EvenCoat {
    Micrometres film;
    friend bool operator==(const EvenCoat&, const EvenCoat&) = default;
};

[[nodiscard]] Millimetres pass_spacing(const Sweep& sweep, const Gun& gun) noexcept;
[[nodiscard]] std::vector<Pass> sweep_passes(const Sweep& sweep, const Gun& gun);

// Full width at half maximum of the finest line or spot of the pass: its footprint across or along. No
// feather or overlap makes anything finer.
[[nodiscard]] Millimetres min_width(const Gun& gun, const Pass& pass) noexcept;

}  // namespace fadewright::spray
