// The curve by which sRGB encodes light, for many values at once.
//
//     12.92 v                       up to 0.0031308
//     1.055 v^(1/2.4) - 0.055       above; a polynomial of the fourth root of v
//
// Source     IEC 61966-2-1; the polynomial fitted here, at the zeros of a Chebyshev polynomial
// Holds for  any v; values outside 0 to 1 are held to them; 0 and 1 stay just that
// Accuracy   within 5e-7; the same bits on every machine, whatever its vectors hold
// Checks     tests/kernels/quick_srgb_test.cpp
#pragma once

#include <span>

namespace fadewright::kernels::quick {

void encode_srgb(std::span<float> linear);

}  // namespace fadewright::kernels::quick
