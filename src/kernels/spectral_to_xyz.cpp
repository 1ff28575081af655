#include "fadewright/kernels/spectral_to_xyz.h"

#include "simd_clones.h"

#include <cstddef>

namespace fadewright::kernels {
namespace {

// Every eighth band is added to the same sum, and the eight sums at the end, for every vector width.
constexpr std::size_t kLanes = 8;

[[gnu::always_inline]] inline double weighted_sum(const float* weights, const float* below_surface,
                                                  std::size_t bands) {
    float lanes[kLanes] = {};
    for (std::size_t band = 0; band < bands; band += kLanes)
        for (std::size_t i = 0; i < kLanes; ++i) lanes[i] += weights[band + i] * below_surface[band + i];
    double sum = 0;
    for (const float lane : lanes) sum += static_cast<double>(lane);
    return sum;
}

// below_surface: buffer for the bands of one point; it and the weights are padded with zeros to whole lanes.
FW_SIMD_CLONES void sum_bands(const float* x, const float* y, const float* z, float k2, const float* R,
                              std::size_t bands, std::size_t points, float* below_surface,
                              std::array<double, 3>* out) {
    const std::size_t lanes = (bands + kLanes - 1) / kLanes * kLanes;
    for (std::size_t point = 0; point < points; ++point, R += bands) {
        for (std::size_t i = 0; i < bands; ++i) below_surface[i] = R[i] / (1 - k2 * R[i]);
        out[point] = {weighted_sum(x, below_surface, lanes), weighted_sum(y, below_surface, lanes),
                      weighted_sum(z, below_surface, lanes)};
    }
}

}  // namespace

SpectralToXyz::SpectralToXyz(std::span<const std::array<double, 3>> band_weights)
    : bands_(band_weights.size()) {
    const std::size_t lanes = (bands_ + kLanes - 1) / kLanes * kLanes;
    for (std::size_t j = 0; j < weights_.size(); ++j) {
        weights_[j].assign(lanes, 0.0f);
        for (std::size_t band = 0; band < bands_; ++band)
            weights_[j][band] = static_cast<float>(band_weights[band][j]);
    }
}

void SpectralToXyz::sum(float k2, std::span<const float> reflectance,
                        std::span<std::array<double, 3>> out) const {
    std::vector<float> below_surface(weights_[0].size(), 0.0f);
    sum_bands(weights_[0].data(), weights_[1].data(), weights_[2].data(), k2, reflectance.data(), bands_,
              out.size(), below_surface.data(), out.data());
}

}  // namespace fadewright::kernels
