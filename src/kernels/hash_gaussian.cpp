#include "fadewright/kernels/hash_gaussian.h"

#include "exp2_fast.h"
#include "simd_clones.h"

#include <algorithm>
#include <cstddef>

namespace fadewright::kernels {
namespace {

FW_SIMD_CLONES void fill(std::uint64_t key, const std::uint32_t* __restrict numbers, std::size_t count,
                         float* __restrict out) {
    for (std::size_t i = 0; i < count; ++i) out[i] = hash_gaussian(key, numbers[i]);
}

FW_SIMD_CLONES void fill_factors(const float* __restrict s, const float* __restrict z, std::size_t count,
                                 float* __restrict out) {
    constexpr float kPerLn2 = static_cast<float>(1 / kLn2), kMaxAbs = Exp2Traits<float>::kMaxExponent;
    for (std::size_t i = 0; i < count; ++i) {
        const float exponent = (s[i] / 2 - z[i]) * s[i] * kPerLn2;
        out[i] = exp2_neg(std::min(kMaxAbs, std::max(-kMaxAbs, exponent)));
    }
}

}  // namespace

void hash_gaussians(std::uint64_t key, std::span<const std::uint32_t> numbers, std::span<float> out) {
    fill(key, numbers.data(), numbers.size(), out.data());
}

void fast::lognormal_factors(std::span<const float> deviations, std::span<const float> noise,
                             std::span<float> factors) {
    fill_factors(deviations.data(), noise.data(), factors.size(), factors.data());
}

}  // namespace fadewright::kernels
