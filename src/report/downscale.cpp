#include "fadewright/report/downscale.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/srgb.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace fadewright::report {
namespace {

constexpr int kChannels = 3;

// Old pixels below a new one, and the share of it that each covers.
struct PixelCoverage {
    int first = 0;
    std::vector<double> shares;
};

std::vector<PixelCoverage> source_pixels(int old_size, int new_size) {
    std::vector<PixelCoverage> coverages(static_cast<std::size_t>(new_size));
    const double step = static_cast<double>(old_size) / new_size;
    for (int i = 0; i < new_size; ++i) {
        PixelCoverage& coverage = coverages[static_cast<std::size_t>(i)];
        const double from = i * step, to = std::min((i + 1) * step, static_cast<double>(old_size));
        coverage.first = static_cast<int>(from);
        for (int k = coverage.first; k < to; ++k)
            coverage.shares.push_back((std::min<double>(k + 1, to) - std::max<double>(k, from)) / step);
    }
    return coverages;
}

std::array<double, 256> linear_from_byte() {
    std::array<double, 256> light{};
    for (std::size_t i = 0; i < light.size(); ++i)
        light[i] = colour::linear_from_srgb(static_cast<double>(i) / 255);
    return light;
}

std::uint8_t byte_from_linear(double light) {
    return static_cast<std::uint8_t>(
        std::lround(255 * colour::srgb_from_linear(std::clamp(light, 0.0, 1.0))));
}

}  // namespace

Picture downscale(const Picture& picture, int longest_px) {
    FW_EXPECTS(picture.channels == kChannels && longest_px > 0);
    const int longest = std::max(picture.width, picture.height);
    if (longest <= longest_px) return picture;
    const double scale = static_cast<double>(longest_px) / longest;
    const auto side = [scale](int old) { return std::max(1, static_cast<int>(std::lround(scale * old))); };
    Picture out(side(picture.width), side(picture.height), kChannels);
    const std::vector<PixelCoverage> columns = source_pixels(picture.width, out.width);
    const std::vector<PixelCoverage> rows = source_pixels(picture.height, out.height);
    const std::array<double, 256> light = linear_from_byte();
    for (int y = 0; y < out.height; ++y) {
        const PixelCoverage& row = rows[static_cast<std::size_t>(y)];
        for (int x = 0; x < out.width; ++x) {
            const PixelCoverage& column = columns[static_cast<std::size_t>(x)];
            std::array<double, kChannels> sum{};
            for (std::size_t j = 0; j < row.shares.size(); ++j)
                for (std::size_t i = 0; i < column.shares.size(); ++i) {
                    const std::uint8_t* p =
                        picture.pixel(column.first + static_cast<int>(i), row.first + static_cast<int>(j));
                    const double share = row.shares[j] * column.shares[i];
                    for (std::size_t c = 0; c < kChannels; ++c) sum[c] += share * light[p[c]];
                }
            std::uint8_t* p = out.pixel(x, y);
            for (std::size_t c = 0; c < kChannels; ++c) p[c] = byte_from_linear(sum[c]);
        }
    }
    return out;
}

}  // namespace fadewright::report
