// CIELAB of many colours at once, for telling quickly which of them look alike.
//
//     (X, Y, Z)/white = M (r, g, b),   L = 116 f(Y) - 16,   a = 500 (f(X) - f(Y)),   b = 200 (f(Y) - f(Z))
//
// Source: [cie15] sec. 8.2; cube roots from a third of the exponent's bits by two steps of Halley.
// Holds for  light from -1 up to 100 times that of white
// Accuracy   within 1e-3 of the plain twin; the same bits on every machine, whatever its vectors hold
// Checks     tests/kernels/quick_lab_test.cpp
#pragma once

#include <array>
#include <span>
#include <vector>

namespace fadewright::kernels {

using RgbToXyz = std::array<std::array<float, 3>, 3>;  // M: a row for each of X, Y, Z

struct LabPlanes {
    std::vector<float> L, a, b;
};

// As many of r, g and b.
[[nodiscard]] LabPlanes lab_fast(const RgbToXyz& M, std::span<const float> r, std::span<const float> g,
                                 std::span<const float> b);

}  // namespace fadewright::kernels
