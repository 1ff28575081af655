// From linear light to the eight bits of a picture: the sRGB curve, and dithering so that the picture shows
// less banding than the paint.
//
//     curve     linear below 0.0031308, above it 1.055 v^(1/2.4) - 0.055, as a quotient of polynomials in
//     sqrt(v) bits      floor(255 v + t),   t in [0, 1) from the pixel's position and channel
//
// t follows an additive two-dimensional low-discrepancy sequence: the thresholds of neighbouring pixels are
// evenly distributed, so that the mean of a small block is the requested value and the noise is as fine as
// the pixels allow. It depends only on position and channel, so tiles and threads cannot change it. It is
// stored in units of 2^-32, which wrap around by integer overflow.
//
// Source: [iec61966] (curve; the quotient, minimax to 1e-7, is our own derivation), [roberts2018] (dithering
//            by the generalised golden ratio).
// Holds for  v from 0 to 1; values outside are clamped; 0 and 1 give exactly 0 and 1, and 0 and 255.
//            Positions >= 0.
// Accuracy   the curve within 1e-6; a sample is less than one step off; the mean over any 16 x 16 block
//            within 1/20 of a step; the same bits for every vector width
// Checks     tests/kernels/srgb_dither_test.cpp
#pragma once

#include <array>
#include <cstdint>
#include <span>

namespace fadewright::kernels {

// In place.
void encode_srgb(std::span<float> light);

// Part of a row of pixels: red, green and blue, encoded, of the same length.
using PlanarRow = std::array<std::span<const float>, 3>;

// Pixels from (x0, y) on; out holds their three samples interleaved.
void dither_to_bytes(const PlanarRow& values, int x0, int y, std::span<std::uint8_t> out);

}  // namespace fadewright::kernels
