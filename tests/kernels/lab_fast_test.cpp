// Fast Lab against double precision. Source: [cie15] equations 8.3 to 8.5.
#include "fadewright/kernels/lab_fast.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

using namespace fadewright::kernels;

namespace {

double f(double t) {
    const double delta = 6.0 / 29;
    return t > delta * delta * delta ? std::cbrt(t) : t / (3 * delta * delta) + 4.0 / 29;
}

// Linear sRGB to XYZ over its white (rounded as published). Source: [iec61966].
constexpr RgbToXyz kSrgb{
    {{0.4339f, 0.3763f, 0.1898f}, {0.2126f, 0.7152f, 0.0722f}, {0.0177f, 0.1095f, 0.8728f}}};

double max_lab_error(std::vector<float> r, std::vector<float> g, std::vector<float> b) {
    const LabPlanes lab = lab_fast(kSrgb, r, g, b);
    double max_error = 0;
    for (std::size_t i = 0; i < r.size(); ++i) {
        const auto part = [&](std::size_t j) {
            const auto product = [&](std::size_t k, float v) {
                return static_cast<double>(kSrgb[j][k]) * static_cast<double>(v);
            };
            return f(product(0, r[i]) + product(1, g[i]) + product(2, b[i]));
        };
        const double fx = part(0), fy = part(1), fz = part(2);
        for (const double error :
             {116 * fy - 16 - static_cast<double>(lab.L[i]), 500 * (fx - fy) - static_cast<double>(lab.a[i]),
              200 * (fy - fz) - static_cast<double>(lab.b[i])})
            max_error = std::max(max_error, std::abs(error));
    }
    return max_error;
}

}  // namespace

TEST_CASE("fast Lab is the reference Lab, dark or light", "[kernels][quick]") {
    std::mt19937 random(5);
    std::uniform_real_distribution<float> unit(0, 1);
    std::vector<float> r, g, b;
    for (int i = 0; i < 20011; ++i) {
        const float dark = std::pow(10.0f, -5 * unit(random));
        r.push_back(dark * unit(random));
        g.push_back(dark * unit(random));
        b.push_back(dark * unit(random));
    }
    CHECK(max_lab_error(r, g, b) < 1e-3);
}

TEST_CASE("fast Lab is correct for black, white, negative light and glare", "[kernels][quick]") {
    CHECK(max_lab_error({0, 1, -0.01f, 1e-8f, 40, -1}, {0, 1, 0.02f, 0, 30, -1},
                        {0, 1, -0.005f, 1e-3f, 20, -1}) < 1e-3);
    const LabPlanes grey =
        lab_fast(kSrgb, std::vector<float>{1.0f}, std::vector<float>{1.0f}, std::vector<float>{1.0f});
    CHECK(std::abs(grey.L[0] - 100) < 1e-3f);
    CHECK(lab_fast(kSrgb, {}, {}, {}).L.empty());
}
