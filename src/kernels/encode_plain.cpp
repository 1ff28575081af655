#include "fadewright/kernels/encode.h"

#include "wide.h"

#include <algorithm>
#include <vector>

namespace fadewright::kernels {
namespace {

// Powers of the inverse of the plastic number, the root of p^3 = p + 1.
constexpr double kAlongX = 0.7548776662466927;
constexpr double kAlongY = 0.5698402909980532;
// Channels are shifted against each other so that the grain is of lightness and not of one hue.
constexpr double kAlongChannel = 0.3819660112501051;

// Thresholds of a row's samples from x0 on, channel by channel. Places are never negative, so cutting the fraction off
// is rounding down.
FW_WIDE void fill_thresholds(int x0, int y, int channels, std::size_t pixels, double* out) {
    for (int channel = 0; channel < channels; ++channel) {
        double* to = out + channel;
        for (std::size_t i = 0; i < pixels; ++i) {
            const double t = kAlongX * (x0 + static_cast<int>(i)) + kAlongY * y + kAlongChannel * channel;
            to[i * static_cast<std::size_t>(channels)] = t - static_cast<double>(static_cast<int>(t));
        }
    }
}

FW_WIDE void round_by(const float* values, const double* thresholds, std::size_t count, std::uint8_t* out) {
    for (std::size_t i = 0; i < count; ++i) {
        const double v = 255.0 * std::min(1.0, std::max(0.0, static_cast<double>(values[i])));
        out[i] = static_cast<std::uint8_t>(std::min(255, static_cast<int>(v + thresholds[i])));
    }
}

}  // namespace

void to_8_bits(std::span<const float> values, int channels, int x0, int y, std::span<std::uint8_t> out) {
    constexpr std::size_t kAtOnce = 64;
    const auto step = static_cast<std::size_t>(channels);
    std::vector<double> thresholds(kAtOnce * step);
    const std::size_t pixels = values.size() / step;
    for (std::size_t first = 0; first < pixels; first += kAtOnce) {
        const std::size_t count = std::min(kAtOnce, pixels - first);
        fill_thresholds(x0 + static_cast<int>(first), y, channels, count, thresholds.data());
        round_by(values.data() + first * step, thresholds.data(), count * step, out.data() + first * step);
    }
}

}  // namespace fadewright::kernels
