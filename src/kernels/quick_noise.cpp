#include "fadewright/kernels/quick_noise.h"

#include "halvings.h"
#include "wide.h"

#include <algorithm>
#include <cstddef>

namespace fadewright::kernels::quick {
namespace {

FW_WIDE void factors_of(const float* __restrict s, const float* __restrict z, std::size_t count,
                        float* __restrict out) {
    constexpr float kPerLn2 = static_cast<float>(1 / kLn2), kMost = HalvingNumbers<float>::kDeepest;
    for (std::size_t i = 0; i < count; ++i) {
        const float halvings = (s[i] / 2 - z[i]) * s[i] * kPerLn2;
        out[i] = left_after_halvings(std::min(kMost, std::max(-kMost, halvings)));
    }
}

}  // namespace

void noise_factors(std::span<const float> deviations, std::span<const float> noise,
                   std::span<float> factors) {
    factors_of(deviations.data(), noise.data(), factors.size(), factors.data());
}

}  // namespace fadewright::kernels::quick
