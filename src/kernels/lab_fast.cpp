#include "fadewright/kernels/lab_fast.h"

#include "simd_clones.h"

#include <algorithm>
#include <bit>
#include <cstddef>
#include <cstdint>

namespace fadewright::kernels {
namespace {

constexpr float kDelta = 6.0f / 29;

// For positive numbers. A third of the bits, corrected for the exponent's bias, is a few per cent off.
[[gnu::always_inline]] inline float cube_root(float t) {
    constexpr float kThird = 1.0f / 3;
    const auto third = static_cast<std::int32_t>(static_cast<float>(std::bit_cast<std::int32_t>(t)) * kThird);
    float y = std::bit_cast<float>(third + 0x2a5119f2);
#pragma GCC unroll 2
    for (int step = 0; step < 2; ++step) {
        const float cube = y * y * y;
        y *= (cube + 2 * t) / (2 * cube + t);
    }
    return y;
}

[[gnu::always_inline]] inline float f(float t) {
    constexpr float kJoin = kDelta * kDelta * kDelta;
    const float root = cube_root(std::max(t, kJoin));
    return t > kJoin ? root : t / (3 * kDelta * kDelta) + 4.0f / 29;
}

// f of one coordinate, for all colours.
FW_SIMD_CLONES void fill_f(const std::array<float, 3>& row, const float* r, const float* g, const float* b,
                           float* out, std::size_t count) {
    const float from_r = row[0], from_g = row[1], from_b = row[2];
    for (std::size_t i = 0; i < count; ++i) out[i] = f(from_r * r[i] + from_g * g[i] + from_b * b[i]);
}

// f(X), f(Y), f(Z) to L*, a*, b*, in place.
FW_SIMD_CLONES void to_labs(float* fx_a, float* fy_L, float* fz_b, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) {
        const float fy = fy_L[i];
        fx_a[i] = 500 * (fx_a[i] - fy);
        fz_b[i] = 200 * (fy - fz_b[i]);
        fy_L[i] = 116 * fy - 16;
    }
}

}  // namespace

LabPlanes lab_fast(const RgbToXyz& M, std::span<const float> r, std::span<const float> g,
                   std::span<const float> b) {
    LabPlanes out;
    for (std::vector<float>* plane : {&out.L, &out.a, &out.b}) plane->resize(r.size());
    fill_f(M[0], r.data(), g.data(), b.data(), out.a.data(), r.size());
    fill_f(M[1], r.data(), g.data(), b.data(), out.L.data(), r.size());
    fill_f(M[2], r.data(), g.data(), b.data(), out.b.data(), r.size());
    to_labs(out.a.data(), out.L.data(), out.b.data(), r.size());
    return out;
}

}  // namespace fadewright::kernels
