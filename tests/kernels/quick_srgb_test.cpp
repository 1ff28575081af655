#include "fadewright/kernels/quick_srgb.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

using fadewright::kernels::quick::encode_srgb;

namespace {

double encoded(double v) { return v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055; }

}  // namespace

TEST_CASE("light is encoded as sRGB says", "[kernels][quick]") {
    std::vector<float> light;
    for (int i = 0; i <= 100000; ++i) light.push_back(static_cast<float>(i) / 100000);
    for (int i = 0; i < 1001; ++i)
        light.push_back(0.007f * static_cast<float>(i) / 1000);  // about the corner
    std::vector<float> codes = light;
    encode_srgb(codes);
    double most = 0;
    for (std::size_t i = 0; i < light.size(); ++i)
        most =
            std::max(most, std::abs(static_cast<double>(codes[i]) - encoded(static_cast<double>(light[i]))));
    CHECK(most < 5e-7);
}

TEST_CASE("black and white are encoded as just that, and nothing lies outside them", "[kernels][quick]") {
    constexpr float kFarAway = std::numeric_limits<float>::infinity();
    std::vector<float> values{0, 1, -0.0f, -2, 1.0001f, 30, -kFarAway, kFarAway, std::nextafter(1.0f, 0.0f)};
    encode_srgb(values);
    CHECK(std::vector<float>(values.begin(), values.end() - 1) == std::vector<float>{0, 1, 0, 0, 1, 1, 0, 1});
    CHECK(values.back() <= 1);
}

TEST_CASE("a value is encoded alike wherever it stands", "[kernels][quick]") {
    std::vector<float> many;
    for (int i = 0; i < 67; ++i) many.push_back(static_cast<float>(i * i) / 4500);
    std::vector<float> together = many;
    encode_srgb(together);
    for (std::size_t i = 0; i < many.size(); ++i) {
        float alone = many[i];
        encode_srgb({&alone, 1});
        CHECK(alone == together[i]);
    }
}
