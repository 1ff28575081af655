// Fast version of spray/puff.h: the paint that many puffs deposit at one point, in vectors.
//
// trace_rays() gives the point's position in the footprint of each puff and the weight of the footprint
// there; eval_gaussians() and eval_elliptical_betas() are the round and the fan footprint at many positions;
// sum_deposit() adds them up.
//
// Source: [zhang2006], [mpe2016]; own derivation where the reference implementation has it.
// Holds for  the range of spray/puff.h
// Accuracy   within 1e-12 of the largest film of the reference implementation; the same bits for every vector
//            width
// Checks     tests/spray/puffs_fast_test.cpp
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::kernels::fast {

// Puffs as rows of numbers: position of the nozzle, the three directions, and the volume that lands.
struct PuffRows {
    std::array<std::vector<double>, 3> nozzle, axis, across, along;
    std::vector<double> landed_volume;

    [[nodiscard]] std::size_t size() const noexcept { return landed_volume.size(); }
};

// A point and the slope of its surface.
struct PuffTarget {
    double x, y, z;
    double dz_dx, dz_dy;
};

// Number of puffs per call.
inline constexpr std::size_t kPuffBatch = 64;

// Positions in the footprints at the reference distance, and the deposit for a share of 1: volume times
// (d/h)^2 (-r.n)/h; 0 where the surface faces away from the puff.
struct PuffRays {
    std::array<double, kPuffBatch> across, along, weight;
    std::size_t count = 0;
};

// first + count <= rows.size(), count <= kPuffBatch
void trace_rays(const PuffRows& rows, std::size_t first, std::size_t count, const PuffTarget& target,
                double distance, PuffRays& out);

using PuffShares = std::array<double, kPuffBatch>;

// [(1 - ring) + ring r^2/2] exp(-r^2/2) peak, r in sigma, ring = hollow_share; 0 beyond `cutoff` sigma.
struct Gaussian {
    double sigma, hollow_share, peak, cutoff;
};
void eval_gaussians(const PuffRays& rays, const Gaussian& shape, PuffShares& out);

// (1 - u^2)^(p/2) (1 - v^2/(1 - u^2))^(q/2) peak with u = across/a, v = along/B; 0 outside.
struct EllipticalBeta {
    double a, B;
    int p, q;  // twice the exponents, >= 0
    double peak;
};
void eval_elliptical_betas(const PuffRays& rays, const EllipticalBeta& shape, PuffShares& out);

// Sum of weight x share.
[[nodiscard]] double sum_deposit(const PuffRays& rays, const PuffShares& shares);

}  // namespace fadewright::kernels::fast
