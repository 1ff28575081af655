// Tristimulus sums in vectors against plain sums.
#include "fadewright/kernels/spectral_to_xyz.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

using namespace fadewright::kernels;

namespace {

using Weights = std::vector<std::array<double, 3>>;

double plain_sum(const Weights& weights, std::size_t j, float k2, const float* R) {
    double sum = 0;
    for (std::size_t band = 0; band < weights.size(); ++band) {
        const double below_surface = static_cast<double>(R[band]);
        sum += weights[band][j] * below_surface / (1 - static_cast<double>(k2) * below_surface);
    }
    return sum;
}

}  // namespace

TEST_CASE("sums of bands through a surface are the plain sums", "[kernels][quick]") {
    std::mt19937 random(11);
    std::uniform_real_distribution<float> unit(0, 1);
    constexpr std::size_t kPoints = 29;
    for (const std::size_t bands : {1u, 7u, 8u, 13u, 36u})
        for (const float k2 : {0.0f, 0.596f, 0.75f}) {
            Weights weights(bands);
            for (auto& band_weights : weights)
                for (double& w : band_weights)
                    w = static_cast<double>(unit(random)) - 0.1;  // some are negative
            std::vector<float> R(bands * kPoints);
            for (float& v : R) v = std::clamp(1.2f * unit(random) - 0.1f, 0.0f, 1.0f);
            std::vector<std::array<double, 3>> sums(kPoints);
            SpectralToXyz(weights).sum(k2, R, sums);
            CAPTURE(bands, k2);
            for (std::size_t j = 0; j < 3; ++j) {
                double absolute_sum = 0;
                for (const auto& band_weights : weights) absolute_sum += std::abs(band_weights[j]);
                for (std::size_t i = 0; i < kPoints; ++i)
                    CHECK(std::abs(sums[i][j] - plain_sum(weights, j, k2, &R[i * bands])) <
                          1e-6 * absolute_sum);
            }
        }
}
