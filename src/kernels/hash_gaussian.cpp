#include "fadewright/kernels/hash_gaussian.h"

#include "simd_clones.h"

#include <cstddef>

namespace fadewright::kernels {
namespace {

FW_SIMD_CLONES void fill(std::uint64_t key, const std::uint32_t* __restrict numbers, std::size_t count,
                         float* __restrict out) {
    for (std::size_t i = 0; i < count; ++i) out[i] = hash_gaussian(key, numbers[i]);
}

}  // namespace

void hash_gaussians(std::uint64_t key, std::span<const std::uint32_t> numbers, std::span<float> out) {
    fill(key, numbers.data(), numbers.size(), out.data());
}

}  // namespace fadewright::kernels
