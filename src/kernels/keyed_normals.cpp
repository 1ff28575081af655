#include "fadewright/kernels/keyed_normals.h"

#include "wide.h"

#include <cstddef>

namespace fadewright::kernels {
namespace {

FW_WIDE void fill(std::uint64_t key, const std::uint32_t* __restrict numbers, std::size_t count,
                  float* __restrict out) {
    for (std::size_t i = 0; i < count; ++i) out[i] = keyed_normal(key, numbers[i]);
}

}  // namespace

void keyed_normals(std::uint64_t key, std::span<const std::uint32_t> numbers, std::span<float> out) {
    fill(key, numbers.data(), numbers.size(), out.data());
}

}  // namespace fadewright::kernels
