// Factors of mean 1 that are never negative, of normal noise: exp(s z - s^2/2), s the deviation of their logarithm.
//
// Source: own derivation (the mean of a lognormal variable).
// Holds for  s >= 0; where s is 0 the factor is 1, the factor is held to 2^120 and its inverse
// Accuracy   within 1e-6 of itself for factors from 1e-3 to 1e3; the same bits on every machine, whatever its vectors
//            hold
// Checks     tests/kernels/quick_noise_test.cpp
#pragma once

#include <span>

namespace fadewright::kernels::fast {

// All of one length.
void lognormal_factors(std::span<const float> deviations, std::span<const float> noise,
                       std::span<float> factors);

}  // namespace fadewright::kernels::fast
