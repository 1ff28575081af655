#include "fadewright/kernels/lognormal_factors.h"

#include "exp2_fast.h"
#include "simd_clones.h"

#include <algorithm>
#include <cstddef>

namespace fadewright::kernels::fast {
namespace {

FW_SIMD_CLONES void fill_factors(const float* __restrict s, const float* __restrict z, std::size_t count,
                                 float* __restrict out) {
    constexpr float kPerLn2 = static_cast<float>(1 / kLn2), kMaxAbs = Exp2Traits<float>::kMaxExponent;
    for (std::size_t i = 0; i < count; ++i) {
        const float exponent = (s[i] / 2 - z[i]) * s[i] * kPerLn2;
        out[i] = exp2_neg(std::min(kMaxAbs, std::max(-kMaxAbs, exponent)));
    }
}

}  // namespace

void lognormal_factors(std::span<const float> deviations, std::span<const float> noise,
                       std::span<float> factors) {
    fill_factors(deviations.data(), noise.data(), factors.size(), factors.data());
}

}  // namespace fadewright::kernels::fast
