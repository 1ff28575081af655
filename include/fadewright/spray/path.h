// How the gun moves: passes, and sweeps that make passes.
//
// Places are millimetres from the panel's lower left corner, x to the right, y up. The trigger opens and
// closes linearly over the feathers; if the path is shorter than both together, closing begins before the
// trigger is fully open, and the flow is the smaller of the two ramps.
//
// A sweep lays parallel passes over a rectangle, all in the same direction, each from edge to edge. The first
// lies on the edge on the side of `from` (moved inwards by `offset` spacings), the last is the last that
// fits. Their spacing is (1 - overlap) of pass_width() (footprint.h).
//
// Checks     tests/spray/path_test.cpp
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

// One movement of the gun along straight pieces. If no two points differ, the gun stands still for `dwell`,
// a fan upright, and speed, feathers and overrun mean nothing; a pass that moves has no dwell.
struct Pass {
    std::vector<Point> points;            // at least one (contract)
    MillimetresPerSecond speed{300};      // above 0 (contract)
    std::optional<Millimetres> distance;  // nozzle to panel; none or 0: the gun's own
    int repeats = 1;                      // times the same path is laid, each in the same direction
    Millimetres feather_on, feather_off;  // way over which the trigger opens and closes, overrun included
    Millimetres overrun;                  // path carried straight on beyond both ends
    Seconds dwell;

    friend bool operator==(const Pass&, const Pass&) = default;
};

struct Sweep {
    Point from, to;      // opposite corners
    Share overlap{0.5};  // below 1 (contract)
    Degrees direction;   // of travel, anticlockwise from left-to-right
    bool cross = false;  // a second set, a quarter turn on
    MillimetresPerSecond speed{300};
    std::optional<Millimetres> distance;
    int repeats = 1;
    Millimetres feather_on, feather_off;
    Millimetres overrun;
    Share offset;  // of the spacing, for the first pass

    friend bool operator==(const Sweep&, const Sweep&) = default;
};

// An even dry film everywhere, however it is laid.
struct Cover {
    Micrometres film;
    friend bool operator==(const Cover&, const Cover&) = default;
};

[[nodiscard]] Millimetres spacing(const Sweep& sweep, const Gun& gun) noexcept;
[[nodiscard]] std::vector<Pass> passes_of(const Sweep& sweep, const Gun& gun);

// Width at half height of the narrowest thing the pass can lay: its footprint across or along. No feather or
// overlap makes anything finer.
[[nodiscard]] Millimetres finest_width(const Gun& gun, const Pass& pass) noexcept;

}  // namespace fadewright::spray
