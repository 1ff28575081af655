#include "fadewright/kernels/srgb_dither.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

using namespace fadewright::kernels;
using Catch::Matchers::WithinAbs;

namespace {

// Interleaved values, three per pixel.
std::vector<std::uint8_t> row_of(const std::vector<float>& values, int x0, int y) {
    std::array<std::vector<float>, 3> planes;
    for (std::size_t i = 0; i < values.size(); ++i) planes[i % 3].push_back(values[i]);
    std::vector<std::uint8_t> out(values.size());
    dither_to_bytes({planes[0], planes[1], planes[2]}, x0, y, out);
    return out;
}

// The mean of one channel over 16 x 16 pixels of one value.
double block_mean(float value, int x0, int y0, std::size_t channel) {
    double sum = 0;
    for (int y = y0; y < y0 + 16; ++y) {
        const auto row = row_of(std::vector<float>(16 * 3, value), x0, y);
        for (std::size_t i = channel; i < row.size(); i += 3) sum += row[i];
    }
    return sum / 256;
}

}  // namespace

TEST_CASE("the mean of any 16 x 16 block is the requested value", "[kernels]") {
    double max_error_of_blocks = 0;
    for (const auto& [x0, y0] : {std::array{0, 0}, {16, 48}, {7, 3}, {1903, 1064}, {7680, 4311}})
        for (std::size_t channel = 0; channel < 3; ++channel)
            for (int i = 0; i <= 199; ++i) {
                // All steps of 8 bits are alike, so one value in each represents every share of a
                // step.
                const float value = static_cast<float>((7 + 239 * i / 199 + i / 200.0) / 255.0);
                const double error = block_mean(value, x0, y0, channel) - 255.0 * static_cast<double>(value);
                max_error_of_blocks = std::max(max_error_of_blocks, std::abs(error));
            }
    CHECK(max_error_of_blocks <
          1.0 / 20);  // of a step, as the header promises; ordinary rounding would reach 1/2
    CHECK(max_error_of_blocks > 0);
}

TEST_CASE("black and white get no noise, and values outside are clamped to them", "[kernels]") {
    for (int y = 0; y < 64; ++y) {
        for (const std::uint8_t v : row_of(std::vector<float>(300, 0.0f), 0, y)) REQUIRE(v == 0);
        for (const std::uint8_t v : row_of(std::vector<float>(300, 1.0f), 0, y)) REQUIRE(v == 255);
        for (const std::uint8_t v : row_of(std::vector<float>(300, -0.3f), 0, y)) REQUIRE(v == 0);
        for (const std::uint8_t v : row_of(std::vector<float>(300, 1.7f), 0, y)) REQUIRE(v == 255);
    }
}

TEST_CASE("no sample is off by a whole step", "[kernels]") {
    std::vector<float> ramp(3 * 1001);
    for (std::size_t i = 0; i < ramp.size(); ++i) ramp[i] = static_cast<float>(i) / 3002.0f;
    for (int y = 0; y < 16; ++y) {
        const auto row = row_of(ramp, 5, y);
        for (std::size_t i = 0; i < row.size(); ++i)
            REQUIRE(std::abs(row[i] - 255.0 * static_cast<double>(ramp[i])) < 1);
    }
}

TEST_CASE("a row split into tiles has the same bytes", "[kernels]") {
    std::vector<float> values(3 * 100);
    for (std::size_t i = 0; i < values.size(); ++i) values[i] = 0.4f + static_cast<float>(i) * 1e-4f;
    const auto whole = row_of(values, 40, 9);
    for (const std::size_t cut : {std::size_t{1}, std::size_t{32}, std::size_t{99}}) {
        const auto at = static_cast<std::ptrdiff_t>(3 * cut);
        auto tiles = row_of({values.begin(), values.begin() + at}, 40, 9);
        const auto rest = row_of({values.begin() + at, values.end()}, 40 + static_cast<int>(cut), 9);
        tiles.insert(tiles.end(), rest.begin(), rest.end());
        CHECK(tiles == whole);
    }
}

TEST_CASE("a slow ramp rises everywhere where plain rounding would show banding", "[kernels]") {
    // Two steps over 512 pixels. With banding it would be flat for 256 pixels and then jump.
    std::vector<float> ramp(3 * std::size_t{512});
    for (std::size_t i = 0; i < ramp.size(); ++i)
        ramp[i] = static_cast<float>((100 + static_cast<double>(i / 3) / 256) / 255);
    for (std::size_t channel = 0; channel < 3; ++channel) {
        std::array<double, 16> sections{};
        for (int y = 0; y < 32; ++y) {
            const auto row = row_of(ramp, 0, y);
            for (std::size_t i = 0; i < 512; ++i) sections[i / 32] += row[3 * i + channel] / 1024.0;
        }
        for (std::size_t i = 0; i < sections.size(); ++i)
            CHECK_THAT(sections[i], WithinAbs(100 + (static_cast<double>(i) + 0.5) / 8, 0.05));
    }
}

TEST_CASE("a grey between two steps is never rounded the same way in all three channels", "[kernels]") {
    for (int y = 0; y < 32; ++y) {
        const auto row = row_of(std::vector<float>(3 * 64, 100.5f / 255), 0, y);
        for (std::size_t i = 0; i < row.size(); i += 3)
            REQUIRE_FALSE((row[i] == row[i + 1] && row[i] == row[i + 2]));
    }
}

TEST_CASE("an empty row is allowed", "[kernels]") { CHECK(row_of({}, 3, 4).empty()); }

TEST_CASE("the curve of sRGB is the published one", "[kernels][quick]") {
    // Source: [iec61966].
    const auto published = [](double v) {
        return v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055;
    };
    std::vector<float> light;
    for (int i = 0; i <= 100000; ++i) {
        light.push_back(static_cast<float>(i) / 100000);
        light.push_back(static_cast<float>(i) / 10000000);
    }
    std::vector<float> encoded = light;
    encode_srgb(encoded);
    double max_error = 0;
    for (std::size_t i = 0; i < light.size(); ++i)
        max_error = std::max(
            max_error, std::abs(static_cast<double>(encoded[i]) - published(static_cast<double>(light[i]))));
    CHECK(max_error < 1e-6);
    std::vector<float> ends{0.0f, 1.0f, -0.5f, 7.0f};
    encode_srgb(ends);
    CHECK(ends == std::vector<float>{0.0f, 1.0f, 0.0f, 1.0f});
}

TEST_CASE("the encoding of a value does not depend on its neighbours", "[kernels][quick]") {
    std::vector<float> together;
    for (int i = 0; i < 53; ++i) together.push_back(0.001f + 0.019f * static_cast<float>(i));
    std::vector<float> alone = together;
    encode_srgb(together);
    for (float& v : alone) encode_srgb({&v, 1});
    CHECK(alone == together);
}
