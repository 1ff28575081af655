// A movement of the gun as short straight strokes, each with one distance, one tilt and an even change of flow.
//
// A stroke ends where the path bends, where the trigger begins or stops to move, and so often that within one
// the distance changes by no more than kMostDistanceChange, the lean of a swinging gun by no more than
// kMostTurn_rad (curve.h), and the speed by no more than kMostSpeedChange. The paint of a stroke is that of
// its own time, exactly.
//
// Source: own derivation from the definition of a moving footprint.
// Accuracy   the film of a pass with changing distance is within 1e-3 of its peak of that of ten times as many
//            strokes, along a curve within 2e-3; volumes within 1e-9
// Checks     tests/spray/route_test.cpp
#pragma once

#include "fadewright/spray/pass_segment.h"
#include "fadewright/spray/path.h"

#include <vector>

namespace fadewright::spray {

inline constexpr double kMaxDistanceChange = 0.006;
inline constexpr double kMaxSpeedChange = 0.05;

// A gun that stands still.
struct Spot {
    double x_mm, y_mm;
    double dx, dy;  // as if it travelled this way: the fan lies across
    double scale;
    double heel_rad, lead_rad;  // radians
    double landed_mm3;
};

struct FlattenedPasses {
    std::vector<PassSegment> segments;
    std::vector<Spot> spots;
};

// Liquid that leaves the gun on a pass, all repeats; what of it would land on an endless panel; how long the
// trigger is pulled.
struct PaintUse {
    Millilitres sprayed;
    Millilitres landed;
    Seconds trigger;
};

// Adds the pieces of one pass (contracts of path.h) and returns what it uses.
PaintUse flatten_pass(const Gun& gun, const Pass& pass, FlattenedPasses& pieces);

}  // namespace fadewright::spray
