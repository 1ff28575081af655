// Masks: what a stencil, a shield or a strip of tape lets through to the piece.
//
// A mask that lies on the piece cuts the paint off at its edge. One that is held above it, by a gap g, does
// not: the paint comes slanting from a gun that is now before, now beyond the edge, and lands beside. A ray
// that lands at p from a gun at the distance d has passed the mask at p + u g/d, u being how far the gun is
// to the side. Over an even coat u is spread like the gun's footprint, so the edge is a step blurred by it:
//
//     share(p) = Phi(m / s),   s = g sigma / d
//
// with m how far p lies from the edge on the open side. The film goes from a tenth to nine tenths over
// kTenToNinety s. The distance falls out of s, because the footprint grows with it. A footprint that is no
// bell counts by its standard deviation, across its travel or along it (spread_of() in footprint.h); a
// fan's are
//
//     across   a / sqrt(2 b1 + 2)
//     along    B sqrt((2 b1 + 1) / ((2 b1 + 2) (2 b2 + 1)))
//
// An edge at an angle to the gun's travel takes from both, in squares. What does not pass stays on the mask:
// nothing is lost or won, because the blur takes from one side of the edge what it adds to the other.
//
// Symbols    Phi normal distribution; sigma/d spread of the gun per distance; a, B half axes, b1, b2 tapers
//            of the fan (footprint.h)
// Source: own derivation; the mean of u^2 over (1 - u^2)^p is 1/(2p + 3), [olver2010] 5.12.
// Holds for  even coats over the edge, edges that bend little, in parts many s wide. In a slit or round a
//            peg of few s too much, or too little, comes through. One pass that keeps to one side of the
//            edge casts its shadow aside besides. Paint that creeps or is blown under the mask is not
//            counted. Gaps well below the gun's distance
// Accuracy   exact for a straight edge under a bell; round a disc of ten s within kRoundTen
// Checks     tests/spray/mask_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/spray/gun.h"
#include "fadewright/spray/outline.h"

namespace fadewright::spray {

inline constexpr double kDiscEdgeError =
    0.025;  // share of the paint, at a disc's edge; falls with its radius
inline constexpr double kTenToNinety = 2.5631031310892007;  // of a normal distribution, in sigma

// s of an edge at that gap, the gun travelling at that angle to it: 0 along the edge, 90 straight over it.
[[nodiscard]] Millimetres edge_softness(const Gun& gun, Millimetres gap, Degrees travel_to_edge);
// Travel in all directions, or a round gun.
[[nodiscard]] Millimetres edge_softness(const Gun& gun, Millimetres gap);

enum class Covers { inside, outside };

struct Mask {
    Outline outline;
    Covers covers = Covers::inside;
    Millimetres gap;  // 0: lies on the piece

    // Share of the paint that passes. `softness`: edge_softness() of the gun for this gap; 0: a hard edge.
    [[nodiscard]] double transmission(double x_mm, double y_mm, Millimetres softness) const noexcept;

    friend bool operator==(const Mask&, const Mask&) = default;
};

}  // namespace fadewright::spray
