// Limits of this machine, measured once in the same run: other figures are shares of them.
#pragma once

namespace fadewright::bench {

// Arrays far larger than any cache, read and written, one core.
[[nodiscard]] double memory_bytes_per_s();
// Multiplications and additions of floats in the widest vectors that the kernels use, one core.
[[nodiscard]] double vector_flops_per_s();

}  // namespace fadewright::bench
