// Marks functions that are compiled for wider vectors too and dispatched by the CPU: the same arithmetic,
// without contraction, so that the results are the same bits.
#pragma once

#if defined(__x86_64__)
#define FW_SIMD_CLONES __attribute__((target_clones("avx2", "default")))
#else
#define FW_SIMD_CLONES
#endif
