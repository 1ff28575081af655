// Tristimulus sums of reflectances through a glossy surface, for pictures: for every point the three sums
//
//     out[j] = sum over the bands of  weights[j][band] R / (1 - k2 R),
//
// where k2 is the internal reflectance of the surface; its other factors and its gloss are the same for all
// bands and are applied afterwards. Bands are adjacent, point after point, as in layer_stack_fast.h.
//
// Source: [saunderson1942], the factors before the sum left out.
// Holds for  R from 0 to 1, k2 from 0 to below 1
// Accuracy   within 1e-6 of the sum of the weights; the same bits for every vector width
// Checks     tests/kernels/spectral_to_xyz_test.cpp, against the plain sum
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::kernels {

class SpectralToXyz {
public:
    explicit SpectralToXyz(std::span<const std::array<double, 3>> band_weights);

    // out.size() is the number of points; reflectance.size() == out.size() * bands
    void sum(float k2, std::span<const float> reflectance, std::span<std::array<double, 3>> out) const;

private:
    std::size_t bands_;
    std::array<std::vector<float>, 3> weights_;
};

}  // namespace fadewright::kernels
