// Powers of e in vectors of short numbers: x = n ln 2 + r, |r| <= ln(2)/2, and the Taylor series of exp r. No branches,
// so that loops of it become vectors.
//
// Holds for  -80 <= x <= 80
// Accuracy   exp within 2e-7 of itself; expm1 of minus within 1e-7 of 1 and within 2e-7 of itself
#pragma once

#include <bit>
#include <cstdint>

namespace fadewright::kernels {

struct PowerOfE {
    float power;  // of 2, next to exp x
    float p;      // exp r - 1
};

[[gnu::always_inline]] inline PowerOfE power_of_e(float x) {
    constexpr float kRound =
        0x1.8p23f;  // adding it and taking it away rounds, and leaves n in the lowest bits
    constexpr float kPerLn2 = 0x1.715476p0f, kLn2High = 0x1.63p-1f, kLn2Low = -0x1.bd0106p-13f;
    const float shifted = x * kPerLn2 + kRound;
    const float n = shifted - kRound;
    const float r = (x - n * kLn2High) - n * kLn2Low;
    float p = 0.0083632357f;
    p = p * r + 0.041666463f;
    p = p * r + 0.16666576f;
    p = p * r + 0.5f;
    p = p * r * r + r;
    return {std::bit_cast<float>((std::bit_cast<std::uint32_t>(shifted) + 127u) << 23), p};
}

[[gnu::always_inline]] inline float exp_of(float x) {
    const PowerOfE e = power_of_e(x);
    return e.power * e.p + e.power;
}

[[gnu::always_inline]] inline float expm1_of_minus(float y) {
    const PowerOfE e = power_of_e(-y);
    return e.power * e.p + (e.power - 1);
}

}  // namespace fadewright::kernels
