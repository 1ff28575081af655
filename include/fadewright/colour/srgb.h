// sRGB: from XYZ under D65 to linear and encoded values, and back.
//
// The matrix is calculated from the primaries and scaled so that the given white is exactly (1, 1, 1); with
// the D65 white of the CIE tables the published matrix would be off by two parts in ten thousand.
//
// Source: [iec61966] (primaries and transfer curve, checked against published values).
// Holds for  linear values of any size; encode() continues the curve through zero for negative values
// Accuracy   encode and decode are inverses for all 256 codes; matrix to the published four decimals
// Checks     tests/colour/srgb_test.cpp
#pragma once

#include "fadewright/colour/lab.h"

#include <array>
#include <cstdint>
#include <span>

namespace fadewright::colour {

struct Rgb {
    double r = 0, g = 0, b = 0;
};

// D65 for the 2 degree observer, from the program's own tables.
[[nodiscard]] const XYZ& d65_white();

[[nodiscard]] Rgb to_linear_srgb(const XYZ& xyz, const XYZ& white) noexcept;
[[nodiscard]] XYZ from_linear_srgb(const Rgb& linear, const XYZ& white) noexcept;

[[nodiscard]] double srgb_from_linear(double linear) noexcept;
[[nodiscard]] double linear_from_srgb(double encoded) noexcept;

// An 8-bit screen colour from Lab relative to its own white; out-of-gamut colours are mapped as in profile.h.
[[nodiscard]] std::array<std::uint8_t, 3> srgb_bytes(const Lab& lab);
[[nodiscard]] Lab lab_of_srgb(const std::array<std::uint8_t, 3>& bytes);

}  // namespace fadewright::colour
