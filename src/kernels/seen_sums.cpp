#include "fadewright/kernels/seen_sums.h"

#include "wide.h"

#include <cstddef>

namespace fadewright::kernels {
namespace {

// Every eighth band goes into the same sum, and the eight are added last, whatever the vectors hold.
constexpr std::size_t kLanes = 8;
using Lanes = std::array<float, kLanes>;

struct Sums {
    Lanes x{}, y{}, z{};
};

double total(const Lanes& lanes) {
    double sum = 0;
    for (const float v : lanes) sum += static_cast<double>(v);
    return sum;
}

FW_WIDE void add_bands(const float* x, const float* y, const float* z, float k2, const float* R,
                       std::size_t bands, Sums& sums) {
    Sums at = sums;
    std::size_t band = 0;
    for (; band + kLanes <= bands; band += kLanes)
        for (std::size_t i = 0; i < kLanes; ++i) {
            const float out = R[band + i] / (1 - k2 * R[band + i]);
            at.x[i] += x[band + i] * out;
            at.y[i] += y[band + i] * out;
            at.z[i] += z[band + i] * out;
        }
    for (std::size_t i = 0; band + i < bands; ++i) {
        const float out = R[band + i] / (1 - k2 * R[band + i]);
        at.x[i] += x[band + i] * out;
        at.y[i] += y[band + i] * out;
        at.z[i] += z[band + i] * out;
    }
    sums = at;
}

}  // namespace

void seen_sums(const std::array<std::vector<float>, 3>& weights, float k2, std::span<const float> reflectance,
               std::span<std::array<double, 3>> out) {
    const std::size_t bands = weights[0].size();
    const float* R = reflectance.data();
    for (std::array<double, 3>& sum : out) {
        Sums sums;
        add_bands(weights[0].data(), weights[1].data(), weights[2].data(), k2, R, bands, sums);
        sum = {total(sums.x), total(sums.y), total(sums.z)};
        R += bands;
    }
}

}  // namespace fadewright::kernels
