#include "fadewright/kernels/encode.h"

#include "wide.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace fadewright::kernels {
namespace {

// 1.055 s^(5/6) - 0.055 for s from sqrt(0.0031308) to 1, within 1e-7.
constexpr float kAbove[] = {-0.051122420813060475f, 0.5256836723189728f, 38.8834711959516f,
                            146.90522808372035f, 73.294832665713f};
constexpr float kBelow[] = {1.0f, 30.245879814861695f, 133.60579856457727f, 92.28864700233711f,
                            2.4177932570189915f};

[[gnu::always_inline]] inline float polynomial(const float (&of)[5], float s) {
    return (((of[4] * s + of[3]) * s + of[2]) * s + of[1]) * s + of[0];
}

// A fraction in 2^-32ths. Powers of the inverse of the plastic number, the root of p^3 = p + 1.
constexpr std::uint32_t in_parts(double fraction) { return static_cast<std::uint32_t>(fraction * 0x1p32); }
constexpr std::uint32_t kAlongX = in_parts(0.7548776662466927), kAlongY = in_parts(0.5698402909980532);
// Channels are shifted against each other so that the grain is of lightness and not of one hue.
constexpr std::uint32_t kAlongChannel = in_parts(0.3819660112501051);

// A step of the eight bits in as many parts as leave room for 255 of them.
constexpr int kStepBits = 16;
constexpr float kWhole = 255 << kStepBits;

FW_WIDE void encode_all(float* light, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) {
        const float v = std::min(1.0f, std::max(0.0f, light[i]));
        const float s = std::sqrt(v);
        const float curved = polynomial(kAbove, s) / polynomial(kBelow, s);
        light[i] = v <= 0.0031308f ? 12.92f * v : v < 1 ? curved : 1.0f;
    }
}

FW_WIDE void dither(const float* values, std::uint32_t threshold, std::size_t count, std::uint8_t* out) {
    for (std::size_t i = 0; i < count; ++i) {
        const float v = std::min(1.0f, std::max(0.0f, values[i]));
        const std::uint32_t t = threshold + static_cast<std::uint32_t>(i) * kAlongX;
        const auto parts = static_cast<std::uint32_t>(static_cast<std::int32_t>(v * kWhole));
        out[i] = static_cast<std::uint8_t>((parts + (t >> (32 - kStepBits))) >> kStepBits);
    }
}

}  // namespace

void encode_srgb(std::span<float> light) { encode_all(light.data(), light.size()); }

void to_8_bits(const PlaneRow& values, int x0, int y, std::span<std::uint8_t> out) {
    constexpr std::size_t kAtOnce = 64;
    std::array<std::array<std::uint8_t, kAtOnce>, 3> samples;
    const std::uint32_t row = static_cast<std::uint32_t>(y) * kAlongY;
    const std::size_t pixels = values[0].size();
    for (std::size_t first = 0; first < pixels; first += kAtOnce) {
        const std::size_t count = std::min(kAtOnce, pixels - first);
        const std::uint32_t start =
            row + (static_cast<std::uint32_t>(x0) + static_cast<std::uint32_t>(first)) * kAlongX;
        for (std::uint32_t channel = 0; channel < 3; ++channel)
            dither(values[channel].data() + first, start + channel * kAlongChannel, count,
                   samples[channel].data());
        std::uint8_t* to = out.data() + 3 * first;
        for (std::size_t i = 0; i < count; ++i)
            for (const auto& of_channel : samples) *to++ = of_channel[i];
    }
}

}  // namespace fadewright::kernels
