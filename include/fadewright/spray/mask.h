// Masks: transmission of a stencil, a shield or a strip of tape.
//
// A mask that lies on the piece has a hard edge. A mask held above it, at a gap g, has a soft one: the gun
// passes the edge on both sides and the paint arrives at an angle. A ray that lands at p from a gun at the
// distance d has crossed the mask at p + u g/d, u being the sideways position of the gun. In an even coat u
// is distributed like the gun's footprint, so the edge is a step convolved with it:
//
//     share(p) = Phi(m / s),   s = g sigma / d
//
// with m the distance of p from the edge on the open side. The film rises from 10 % to 90 % over kTenToNinety
// s. The distance cancels in s, because the footprint grows with it. A footprint that is not a Gaussian
// counts by its standard deviation, across its travel or along it (spread_of() in footprint.h); a fan's are
//
//     across   a / sqrt(2 b1 + 2)
//     along    B sqrt((2 b1 + 1) / ((2 b1 + 2) (2 b2 + 1)))
//
// For an edge at an angle to the gun's travel both variances combine. Paint that is not transmitted stays on
// the mask: volume is conserved, because the blur takes from one side of the edge what it adds to the other.
//
// Symbols    Phi normal distribution; sigma/d spread of the gun per distance; a, B half axes, b1, b2 tapers
//            of the fan (footprint.h)
// Source: own derivation; the mean of u^2 over (1 - u^2)^p is 1/(2p + 3), [olver2010] 5.12.
// Holds for  even coats over the edge, edges of little curvature, features many s wide. Through a slit or
//            round a peg a few s wide the film is too high, or too low. The offset shadow of a single pass
//            that keeps to one side of the edge is neglected, and so is paint that creeps or is blown under
//            the mask. Gaps well below the gun's distance
// Accuracy   exact for a straight edge and a Gaussian; at a disc of ten s within kDiscEdgeError
// Checks     tests/spray/mask_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/geometry/outline.h"
#include "fadewright/spray/gun.h"

namespace fadewright::spray {

inline constexpr double kDiscEdgeError =
    0.025;  // share of the paint, at a disc's edge; falls with its radius
inline constexpr double kTenToNinety = 2.5631031310892007;  // of a normal distribution, in sigma

// s of an edge at that gap, for the angle of travel to it: 0 along the edge, 90 straight across it.
[[nodiscard]] Millimetres edge_softness(const Gun& gun, Millimetres gap, Degrees travel_to_edge);
// Travel in all directions, or a round gun.
[[nodiscard]] Millimetres edge_softness(const Gun& gun, Millimetres gap);

enum class Covers { inside, outside };

struct Mask {
    geometry::Outline outline;
    Covers covers = Covers::inside;
    Millimetres gap;  // 0: lies on the piece

    // Share of the paint transmitted. `softness`: edge_softness() of the gun for this gap; 0: a hard edge.
    [[nodiscard]] double transmission(double x_mm, double y_mm, Millimetres softness) const noexcept;

    friend bool operator==(const Mask&, const Mask&) = default;
};

}  // namespace fadewright::spray
