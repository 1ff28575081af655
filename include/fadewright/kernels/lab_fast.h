// CIELAB of many colours at once, for fast colour differences.
//
//     (X, Y, Z)/white = M (r, g, b),   L = 116 f(Y) - 16,   a = 500 (f(X) - f(Y)),   b = 200 (f(Y) - f(Z))
//
// Source: [cie15] sec. 8.2; cube roots from a third of the exponent's bits by two steps of Halley.
// Holds for  linear light from -1 to 100 times white
// Accuracy   within 1e-3 of the reference implementation; the same bits for every vector width
// Checks     tests/kernels/lab_fast_test.cpp
#pragma once

#include <array>
#include <span>
#include <vector>

namespace fadewright::kernels {

using RgbToXyz = std::array<std::array<float, 3>, 3>;  // M: one row each for X, Y, Z

struct LabPlanes {
    std::vector<float> L, a, b;
};

// r, g and b have the same length.
[[nodiscard]] LabPlanes lab_fast(const RgbToXyz& M, std::span<const float> r, std::span<const float> g,
                                 std::span<const float> b);

}  // namespace fadewright::kernels
