// Reflectance recovery (spectral upsampling): an estimated smooth spectrum for a given colour.
//
// Of all reflectances that match the target, the one whose inverse hyperbolic tangent changes least from band
// to band; it stays between 0 and 1 and is flat at both ends:
//
//     r_i = (1 + tanh z_i) / 2,     sum (z_i+1 - z_i)^2 minimal,     T r = target
//
// with T the weights of light and observer. Solved by Newton's method on z and the three multipliers, from a
// flat grey, with no step of z longer than kMaxNewtonStep. A colour that no reflectance has (too bright or
// too saturated for the light) is moved towards the grey of its lightness until one exists; `exact` is false
// then.
//
// A colour does not determine the pigments: the spectrum is smooth and plausible, but an estimate.
//
// Source: [burns2020] (least slope in tanh).
// Holds for  any light and observer with power in all three responses; sRGB codes 0 and 255 are moved inwards
//            by kSrgbMargin of linear light, which is far below half a code
// Accuracy   target met to 1e-9 of white; all 8-bit colours of a grid of 16 per channel are reproduced
//            exactly
// Checks     tests/colour/reflectance_recovery_test.cpp
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/lab.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/colour/srgb.h"

#include <array>
#include <cstdint>

namespace fadewright::colour {

inline constexpr double kMaxNewtonStep = 2.0;  // of z in one Newton step
inline constexpr double kSrgbMargin = 1e-5;    // minimum distance of linear sRGB from 0 and 1

struct RecoveredReflectance {
    Reflectance reflectance;  // strictly between 0 and 1
    bool exact = false;       // it has the requested colour, not one nearer to grey
    int steps = 0;            // of Newton's method, in the last solution
};

[[nodiscard]] RecoveredReflectance recover_reflectance(const XYZ& target, const TristimulusWeights& weights);
[[nodiscard]] RecoveredReflectance recover_reflectance(const Lab& target, const TristimulusWeights& weights);

// An 8-bit sRGB colour, under D65 for the 2 degree observer.
[[nodiscard]] RecoveredReflectance recover_reflectance(const std::array<std::uint8_t, 3>& srgb);

// Linear sRGB, for example an average over many pixels.
[[nodiscard]] RecoveredReflectance recover_reflectance(const Rgb& linear_srgb);

}  // namespace fadewright::colour
