// What this machine can do, measured once in the same run: the bounds that other figures are shares of.
#pragma once

namespace fadewright::bench {

// Arrays far larger than any cache, read and written, one core.
[[nodiscard]] double memory_bytes_per_s();
// Multiplications and additions of short numbers in the widest vectors the kernels use, one core.
[[nodiscard]] double vector_flops_per_s();

}  // namespace fadewright::bench
