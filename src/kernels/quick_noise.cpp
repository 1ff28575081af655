#include "fadewright/kernels/quick_noise.h"

#include "quick_exp.h"
#include "wide.h"

#include <algorithm>
#include <cstddef>

namespace fadewright::kernels::quick {
namespace {

FW_WIDE void factors_of(const float* __restrict s, const float* __restrict z, std::size_t count,
                        float* __restrict out) {
    constexpr float kMost = 80;
    for (std::size_t i = 0; i < count; ++i)
        out[i] = exp_of(std::min(kMost, std::max(-kMost, s[i] * z[i] - s[i] * s[i] / 2)));
}

}  // namespace

void noise_factors(std::span<const float> deviations, std::span<const float> noise,
                   std::span<float> factors) {
    factors_of(deviations.data(), noise.data(), factors.size(), factors.data());
}

}  // namespace fadewright::kernels::quick
