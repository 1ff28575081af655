// Puffs: one instant of a gun at any angle over any surface.
//
// Paint leaves the nozzle N in straight rays about the axis a. A surface point at r from the nozzle, at the
// depth h = r.a along the axis, gets
//
//     film = V f(x, y) (d/h)^2 (-r.n) / h,      x = d (r.u) / h,  y = d (r.v) / h
//
// from a puff of the volume V: f is the footprint at the reference distance d, u and v the directions across
// and along the travel square to the axis, n the surface's normal. On a flat panel square to the gun this is
// the footprint itself at its scale; on a tilted one it is f cos t (h'/h)^3; on any surface the paint through
// a plane element is the paint on the surface behind it. A surface that faces away receives nothing; shadows
// cast by other parts are neglected.
//
// Symbols    volumes mm3, lengths mm; film is wet and measured square to the surface
// Source: [mpe2016]; own derivation again: rays from a point, area against solid angle, q = q_h (h/l)^2
//            cos(gamma) / cos^3(theta).
// Holds for  surfaces of little curvature within a footprint, no cast shadows, no rebound
// Checks     tests/spray/heel_test.cpp, tests/spray/deposit_test.cpp, tests/published/tilted_footprint.csv
#pragma once

#include "fadewright/spray/flatten.h"
#include "fadewright/spray/relief.h"

#include <vector>

namespace fadewright::spray {

struct Puff {
    double nozzle[3];
    double axis[3];    // from the nozzle to the panel
    double across[3];  // to the left of the travel
    double along[3];
    double landed_mm3;
};

// A spot as one puff; a segment as many, evenly along it: within 1e-3 of the peak of its film.
[[nodiscard]] Puff puff_of(const Spot& spot, double distance_mm);
void add_puffs(const PassSegment& segment, const Footprint& footprint, double distance_mm,
               std::vector<Puff>& puffs);

// At (x, y) on a surface of that slope.
template <class F>
[[nodiscard]] double wet_um(const F& footprint, const Puff& p, double distance_mm, double x_mm, double y_mm,
                            const SurfaceSample& surface) noexcept {
    const double r[3] = {x_mm - p.nozzle[0], y_mm - p.nozzle[1], surface.height_mm - p.nozzle[2]};
    const auto dot = [&r](const double* v) { return r[0] * v[0] + r[1] * v[1] + r[2] * v[2]; };
    const double depth = dot(p.axis);
    if (depth <= 0) return 0;
    const double k = distance_mm / depth;
    const double f = footprint.at(k * dot(p.across), k * dot(p.along));
    if (f == 0) return 0;
    const double normal = std::sqrt(1 + surface.dz_dx * surface.dz_dx + surface.dz_dy * surface.dz_dy);
    const double facing = (r[0] * surface.dz_dx + r[1] * surface.dz_dy - r[2]) / normal;
    if (facing <= 0) return 0;
    return kMicrometresPerMillimetre * p.landed_mm3 * f * k * k * facing / depth;
}

// Support of a puff on surfaces between two heights.
[[nodiscard]] geometry::Box reach(const Footprint& footprint, double distance_mm, const Puff& puff,
                                  double lowest_mm, double highest_mm) noexcept;

}  // namespace fadewright::spray
