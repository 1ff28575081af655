// What many puffs lay at one place, in vectors: the quick twin of spray/puff.h.
//
// The places that a ray from each puff meets in its own footprint, and how much a footprint's share there is worth, come
// from rays(); bells() and ellipses() are the round and the fan footprint of many such places; laid() sums up.
//
// Source: [zhang2006], [mpe2016]; own derivation where those of the plain loops are.
// Holds for  what they hold for
// Accuracy   within 1e-12 of the largest film of the plain twin; the same bits on every machine, whatever its vectors
//            hold
// Checks     tests/spray/quick_puffs_test.cpp
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::kernels::fast {

// Numbers of puffs side by side: where the nozzle is, the three directions, and the volume that lands.
struct PuffRows {
    std::array<std::vector<double>, 3> nozzle, axis, across, along;
    std::vector<double> landed_volume;

    [[nodiscard]] std::size_t size() const noexcept { return landed_volume.size(); }
};

// A place and the slope of its surface.
struct PuffTarget {
    double x, y, z;
    double dz_dx, dz_dy;
};

// So many puffs are worked out at once.
inline constexpr std::size_t kPuffBatch = 64;

// Places in the footprints at the reference distance, and what a share of 1 there would lay: volume times
// (d/h)^2 (-r.n)/h; 0 where a puff does not see the surface.
struct PuffRays {
    std::array<double, kPuffBatch> across, along, weight;
    std::size_t count = 0;
};

// first + count <= rows.size(), count <= kPuffsAtOnce
void trace_rays(const PuffRows& rows, std::size_t first, std::size_t count, const PuffTarget& target,
                double distance, PuffRays& out);

using PuffShares = std::array<double, kPuffBatch>;

// [(1 - ring) + ring r^2/2] exp(-r^2/2) peak, r in sigma; nothing from `reach` sigma on.
struct Gaussian {
    double sigma, hollow_share, peak, cutoff;
};
void eval_gaussians(const PuffRays& rays, const Gaussian& shape, PuffShares& out);

// (1 - u^2)^(p/2) (1 - v^2/(1 - u^2))^(q/2) peak with u across/a, v along/B; nothing outside.
struct EllipticalBeta {
    double a, B;
    int p, q;  // twice the exponents, 0 and up
    double peak;
};
void eval_elliptical_betas(const PuffRays& rays, const EllipticalBeta& shape, PuffShares& out);

// Sum of weights times shares.
[[nodiscard]] double sum_deposit(const PuffRays& rays, const PuffShares& shares);

}  // namespace fadewright::kernels::fast
