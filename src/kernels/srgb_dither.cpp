#include "fadewright/kernels/srgb_dither.h"

#include "simd_clones.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace fadewright::kernels {
namespace {

// 1.055 s^(5/6) - 0.055 for s from sqrt(0.0031308) to 1, within 1e-7.
constexpr float kNumerator[] = {-0.051122420813060475f, 0.5256836723189728f, 38.8834711959516f,
                                146.90522808372035f, 73.294832665713f};
constexpr float kDenominator[] = {1.0f, 30.245879814861695f, 133.60579856457727f, 92.28864700233711f,
                                  2.4177932570189915f};

[[gnu::always_inline]] inline float polynomial(const float (&coefficients)[5], float s) {
    return (((coefficients[4] * s + coefficients[3]) * s + coefficients[2]) * s + coefficients[1]) * s +
           coefficients[0];
}

// A fraction in 2^-32ths. Powers of the inverse of the plastic number, the root of p^3 = p + 1.
constexpr std::uint32_t to_fixed_point(double fraction) {
    return static_cast<std::uint32_t>(fraction * 0x1p32);
}
constexpr std::uint32_t kIncrementX = to_fixed_point(0.7548776662466927),
                        kIncrementY = to_fixed_point(0.5698402909980532);
// Channels are shifted against each other so that the noise changes lightness and not hue.
constexpr std::uint32_t kIncrementChannel = to_fixed_point(0.3819660112501051);

// Parts per 8-bit step; 255 steps must fit into 32 bits.
constexpr int kStepBits = 16;
constexpr float kMaxFixed = 255 << kStepBits;

FW_SIMD_CLONES void encode_all(float* light, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) {
        const float v = std::min(1.0f, std::max(0.0f, light[i]));
        const float s = std::sqrt(v);
        const float encoded = polynomial(kNumerator, s) / polynomial(kDenominator, s);
        light[i] = v <= 0.0031308f ? 12.92f * v : v < 1 ? encoded : 1.0f;
    }
}

FW_SIMD_CLONES void dither(const float* values, std::uint32_t threshold, std::size_t count,
                           std::uint8_t* out) {
    for (std::size_t i = 0; i < count; ++i) {
        const float v = std::min(1.0f, std::max(0.0f, values[i]));
        const std::uint32_t t = threshold + static_cast<std::uint32_t>(i) * kIncrementX;
        const auto fixed = static_cast<std::uint32_t>(static_cast<std::int32_t>(v * kMaxFixed));
        out[i] = static_cast<std::uint8_t>((fixed + (t >> (32 - kStepBits))) >> kStepBits);
    }
}

}  // namespace

void encode_srgb(std::span<float> light) { encode_all(light.data(), light.size()); }

void dither_to_bytes(const PlanarRow& values, int x0, int y, std::span<std::uint8_t> out) {
    constexpr std::size_t kChunk = 64;
    std::array<std::array<std::uint8_t, kChunk>, 3> samples;
    const std::uint32_t row = static_cast<std::uint32_t>(y) * kIncrementY;
    const std::size_t pixels = values[0].size();
    for (std::size_t first = 0; first < pixels; first += kChunk) {
        const std::size_t count = std::min(kChunk, pixels - first);
        const std::uint32_t start =
            row + (static_cast<std::uint32_t>(x0) + static_cast<std::uint32_t>(first)) * kIncrementX;
        for (std::uint32_t channel = 0; channel < 3; ++channel)
            dither(values[channel].data() + first, start + channel * kIncrementChannel, count,
                   samples[channel].data());
        std::uint8_t* dest = out.data() + 3 * first;
        for (std::size_t i = 0; i < count; ++i)
            for (const auto& channel_samples : samples) *dest++ = channel_samples[i];
    }
}

}  // namespace fadewright::kernels
