// What an observer sums up of reflectances that are looked at through a skin, for pictures: of every point the three
// sums
//
//     out[j] = sum over the bands of  weights[j][band] R / (1 - k2 R),
//
// to which the skin's other factors and its shine are the same for all bands. Bands lie side by side, a point after the
// other, as in quick_layers.h.
//
// Source: [saunderson1942], the factors before the sum left out.
// Holds for  R from 0 to 1, k2 from 0 to below 1
// Accuracy   within 1e-6 of the weights' sum; the same bits on every machine, whatever its vectors hold
// Checks     tests/kernels/seen_sums_test.cpp, against the plain sum
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::kernels {

class SpectralToXyz {
public:
    explicit SpectralToXyz(std::span<const std::array<double, 3>> band_weights);

    // out has a place for every point; reflectance.size() == out.size() * bands
    void sum(float k2, std::span<const float> reflectance, std::span<std::array<double, 3>> out) const;

private:
    std::size_t bands_;
    std::array<std::vector<float>, 3> weights_;
};

}  // namespace fadewright::kernels
