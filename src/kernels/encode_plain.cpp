#include "fadewright/kernels/encode.h"

#include <algorithm>

namespace fadewright::kernels {
namespace {

// Powers of the inverse of the plastic number, the root of p^3 = p + 1.
constexpr double kAlongX = 0.7548776662466927;
constexpr double kAlongY = 0.5698402909980532;
// Channels are shifted against each other so that the grain is of lightness and not of one hue.
constexpr double kAlongChannel = 0.3819660112501051;

// Places are never negative, so cutting the fraction off is rounding down.
double threshold(int x, int y, int channel) noexcept {
    const double t = kAlongX * x + kAlongY * y + kAlongChannel * channel;
    return t - static_cast<double>(static_cast<int>(t));
}

}  // namespace

void to_8_bits(std::span<const float> values, int channels, int x0, int y, std::span<std::uint8_t> out) {
    std::size_t i = 0;
    for (int x = x0; i < values.size(); ++x)
        for (int channel = 0; channel < channels; ++channel, ++i) {
            const double v = 255.0 * std::clamp(static_cast<double>(values[i]), 0.0, 1.0);
            out[i] = static_cast<std::uint8_t>(std::min(255, static_cast<int>(v + threshold(x, y, channel))));
        }
}

}  // namespace fadewright::kernels
