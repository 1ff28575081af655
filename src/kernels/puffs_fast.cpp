#include "fadewright/kernels/puffs_fast.h"

#include "exp2_fast.h"
#include "simd_clones.h"

#include <algorithm>
#include <cmath>

namespace fadewright::kernels::fast {
namespace {

// Every fourth puff is added to the same sum, for every vector width.
constexpr std::size_t kLanes = 4;
static_assert(kPuffBatch % kLanes == 0);

// Start of the rows of one batch.
struct Rows {
    std::array<const double*, 3> nozzle, axis, across, along;
    const double* landed_volume;
};

FW_SIMD_CLONES void trace_batch(const Rows& rows, const PuffTarget& at, double distance, std::size_t count,
                                double* __restrict out_across, double* __restrict out_along,
                                double* __restrict out_weight) {
    const double *nx = rows.nozzle[0], *ny = rows.nozzle[1], *nz = rows.nozzle[2];
    const double *ax = rows.axis[0], *ay = rows.axis[1], *az = rows.axis[2];
    const double *ux = rows.across[0], *uy = rows.across[1], *uz = rows.across[2];
    const double *vx = rows.along[0], *vy = rows.along[1], *vz = rows.along[2];
    const double* landed_volume = rows.landed_volume;
    const double x = at.x, y = at.y, z = at.z, slope_x = at.dz_dx, slope_y = at.dz_dy;
    const double per_normal = 1 / std::sqrt(1 + slope_x * slope_x + slope_y * slope_y);
    for (std::size_t i = 0; i < count; ++i) {
        const double rx = x - nx[i], ry = y - ny[i], rz = z - nz[i];
        const double depth = rx * ax[i] + ry * ay[i] + rz * az[i];
        const double per_depth = 1 / depth, k = distance * per_depth;
        const double facing = (rx * slope_x + ry * slope_y - rz) * per_normal;
        out_across[i] = k * (rx * ux[i] + ry * uy[i] + rz * uz[i]);
        out_along[i] = k * (rx * vx[i] + ry * vy[i] + rz * vz[i]);
        out_weight[i] = std::min(depth, facing) > 0 ? landed_volume[i] * k * k * facing * per_depth : 0;
    }
}

FW_SIMD_CLONES void gaussian_values(const double* across, const double* along, std::size_t count,
                                    const Gaussian& shape, double* __restrict out) {
    constexpr double kExponentPerR2 = 0.5 / kLn2;  // exp(-r^2/2) as a power of two
    const double per_sigma2 = 1 / (shape.sigma * shape.sigma), cutoff2 = shape.cutoff * shape.cutoff;
    const double hollow_share = shape.hollow_share, peak = shape.peak;
    for (std::size_t i = 0; i < count; ++i) {
        const double r2 = (across[i] * across[i] + along[i] * along[i]) * per_sigma2;
        const double clamped_r2 = std::min(r2, cutoff2);
        const double value =
            (1 - hollow_share + hollow_share * clamped_r2 / 2) * exp2_neg(clamped_r2 * kExponentPerR2) * peak;
        out[i] = r2 < cutoff2 ? value : 0;
    }
}

FW_SIMD_CLONES void ellipse_terms(const double* across, const double* along, std::size_t count,
                                  const EllipticalBeta& shape, double* __restrict t,
                                  double* __restrict rest) {
    const double per_a = 1 / shape.a, per_B = 1 / shape.B;
    for (std::size_t i = 0; i < count; ++i) {
        const double u = across[i] * per_a, v = along[i] * per_B;
        const double one_minus_u2 = (1 - u) * (1 + u);
        const double remainder = one_minus_u2 > 0 ? 1 - v * v / one_minus_u2 : 0;
        t[i] = std::max(0.0, one_minus_u2);
        rest[i] = remainder > 0 ? remainder : 0;
    }
}

// out times base^(halves/2)
FW_SIMD_CLONES void multiply_power(const double* base, int halves, std::size_t count,
                                   double* __restrict out) {
    if (halves % 2 == 1)
        for (std::size_t i = 0; i < count; ++i) out[i] *= std::sqrt(base[i]);
    for (int h = 1; h < halves; h += 2)
        for (std::size_t i = 0; i < count; ++i) out[i] *= base[i];
}

}  // namespace

void trace_rays(const PuffRows& rows, std::size_t first, std::size_t count, const PuffTarget& target,
                double distance, PuffRays& out) {
    const auto from = [first](const std::array<std::vector<double>, 3>& of) {
        return std::array{of[0].data() + first, of[1].data() + first, of[2].data() + first};
    };
    const Rows batch{from(rows.nozzle), from(rows.axis), from(rows.across), from(rows.along),
                     rows.landed_volume.data() + first};
    trace_batch(batch, target, distance, count, out.across.data(), out.along.data(), out.weight.data());
    // Padded to whole lanes for sum_deposit(), with weight 0.
    for (out.count = count; out.count % kLanes != 0; ++out.count)
        out.across[out.count] = out.along[out.count] = out.weight[out.count] = 0;
}

void eval_gaussians(const PuffRays& rays, const Gaussian& shape, PuffShares& out) {
    gaussian_values(rays.across.data(), rays.along.data(), rays.count, shape, out.data());
}

void eval_elliptical_betas(const PuffRays& rays, const EllipticalBeta& shape, PuffShares& out) {
    std::array<double, kPuffBatch> t, rest;
    ellipse_terms(rays.across.data(), rays.along.data(), rays.count, shape, t.data(), rest.data());
    for (std::size_t i = 0; i < rays.count; ++i) out[i] = rest[i] > 0 ? shape.peak : 0;
    multiply_power(t.data(), shape.p, rays.count, out.data());
    multiply_power(rest.data(), shape.q, rays.count, out.data());
}

double sum_deposit(const PuffRays& rays, const PuffShares& shares) {
    std::array<double, kLanes> sums{};
    for (std::size_t i = 0; i < rays.count; i += kLanes)
        for (std::size_t lane = 0; lane < kLanes; ++lane)
            sums[lane] += rays.weight[i + lane] * shares[i + lane];
    return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

}  // namespace fadewright::kernels::fast
