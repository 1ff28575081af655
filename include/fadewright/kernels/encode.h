// Eight bits from exact values, dithered so that the picture bands less than the paint.
//
//     out = floor(255 v + t),   t in [0, 1) from the pixel's place and channel
//
// t follows an additive two-dimensional low-discrepancy sequence: neighbouring pixels get thresholds that are
// spread evenly, so that the mean of a small block is the value asked for and the grain is as fine as the
// pixels allow. It depends on place and channel alone, so tiles and threads cannot change it.
//
// Source     M. Roberts 2018, "The unreasonable effectiveness of quasirandom sequences" (the generalised
//            golden ratio)
// Holds for  v from 0 to 1; values outside are clamped; 0 and 1 give exactly 0 and 255. Places from 0 up.
// Accuracy   a sample is less than one step off; the mean over any 16 x 16 block within 1/20 of a step
// Checks     tests/kernels/encode_test.cpp
#pragma once

#include <cstdint>
#include <span>

namespace fadewright::kernels {

// One row of pixels from (x0, y): values and out hold `channels` samples for each pixel, side by side.
void to_8_bits(std::span<const float> values, int channels, int x0, int y, std::span<std::uint8_t> out);

}  // namespace fadewright::kernels
