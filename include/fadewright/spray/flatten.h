// Flattening: a pass as short straight segments, each with one distance, one heel angle and a linear change
// of flow.
//
// A segment ends where the path bends, where the trigger starts or stops moving, and wherever else it must so
// that within it the distance changes by no more than kMaxDistanceChange, the lead angle of an arcing gun by
// no more than kMaxTurn_rad (polyline.h), and the speed by no more than kMaxSpeedChange. The paint of a
// segment is exactly that of its own time.
//
// Source: own derivation from the definition of a moving footprint.
// Accuracy   the film of a pass with changing distance is within 1e-3 of its peak of that of ten times as
//            many segments, along a curve within 2e-3; volumes within 1e-9
// Checks     tests/spray/flatten_test.cpp
#pragma once

#include "fadewright/spray/pass_segment.h"
#include "fadewright/spray/path.h"

#include <vector>

namespace fadewright::spray {

inline constexpr double kMaxDistanceChange = 0.006;
inline constexpr double kMaxSpeedChange = 0.05;

// A stationary shot.
struct Spot {
    double x_mm, y_mm;
    double dx, dy;  // as if it travelled this way: the fan's width lies across
    double scale;
    double heel_rad, lead_rad;  // radians
    double landed_mm3;
};

struct FlattenedPasses {
    std::vector<PassSegment> segments;
    std::vector<Spot> spots;
};

// Liquid that leaves the gun on a pass, all repeats; the share of it that would land on an infinite panel;
// trigger time.
struct PaintUse {
    Millilitres sprayed;
    Millilitres landed;
    Seconds trigger;
};

// Adds the segments and spots of one pass (contracts of path.h) and returns its paint use.
PaintUse flatten_pass(const Gun& gun, const Pass& pass, FlattenedPasses& pieces);

}  // namespace fadewright::spray
