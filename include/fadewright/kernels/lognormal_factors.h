// Lognormal factors of mean 1 from Gaussian noise z: exp(s z - s^2/2), s the standard deviation of the
// logarithm.
//
// Source: own derivation (the mean of a lognormal variable).
// Holds for  s >= 0; the factor is 1 for s = 0, and clamped to 2^-120 to 2^120
// Accuracy   relative 1e-6 for factors from 1e-3 to 1e3; the same bits for every vector width
// Checks     tests/kernels/lognormal_factors_test.cpp
#pragma once

#include <span>

namespace fadewright::kernels::fast {

// All spans have the same length.
void lognormal_factors(std::span<const float> deviations, std::span<const float> noise,
                       std::span<float> factors);

}  // namespace fadewright::kernels::fast
