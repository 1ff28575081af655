// sRGB: from XYZ under D65 to linear and encoded values, and back.
//
// The matrix is made from the primaries and scaled so that the given white is exactly (1, 1, 1); with the D65
// white of the CIE tables the published matrix would be off by two parts in ten thousand.
//
// Source: [iec61966] (primaries and transfer curve, checked against published values).
// Holds for  linear values of any size; encode() carries the curve on through zero for negative values
// Accuracy   encode and decode undo each other for all 256 codes; matrix to the published four decimals
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

// D65 of the 2 degree observer as the program's own tables give it.
[[nodiscard]] const XYZ& d65_white();

[[nodiscard]] Rgb to_linear_srgb(const XYZ& xyz, const XYZ& white) noexcept;
[[nodiscard]] XYZ from_linear_srgb(const Rgb& linear, const XYZ& white) noexcept;

[[nodiscard]] double srgb_from_linear(double linear) noexcept;
[[nodiscard]] double linear_from_srgb(double encoded) noexcept;

// A colour given as Lab relative to its own white, for showing on a screen: 8 bits, out-of-gamut colours
// mapped as profile.h does.
[[nodiscard]] std::array<std::uint8_t, 3> srgb_bytes(const Lab& lab);
[[nodiscard]] Lab lab_of_srgb(const std::array<std::uint8_t, 3>& bytes);

}  // namespace fadewright::colour
