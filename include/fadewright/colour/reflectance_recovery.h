// A smooth reflectance that has a given colour: a guess at the spectrum when only three numbers are known.
//
// Of all reflectances that look like the target it takes the one whose hyperbolic angle changes least from
// band to band, so that it stays between 0 and 1 by itself and levels out at both ends:
//
//     r_i = (1 + tanh z_i) / 2,     sum (z_i+1 - z_i)^2 least,     T r = target
//
// with T the weights of light and observer. Solved by Newton's method on z and the three multipliers, from an
// even grey, no step of z longer than kLongestStep. A colour no reflectance has (too bright or too strong for
// the light) is led towards the grey of its own lightness until one exists; `reached` is false then.
//
// A colour does not determine a pigment: what comes out is smooth and plausible, and a guess.
//
// Source: [burns2020] (least slope in tanh).
// Holds for  any light and observer with power in all three responses; sRGB codes 0 and 255 are moved in by
//            kSrgbEdge of linear light, which is far below half a code
// Accuracy   target met to 1e-9 of white; all 8-bit colours of a grid of 16 per channel come back exactly
// Checks     tests/colour/reconstruct_test.cpp
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/lab.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/colour/srgb.h"

#include <array>
#include <cstdint>

namespace fadewright::colour {

inline constexpr double kMaxNewtonStep = 2.0;  // of z in one Newton step
inline constexpr double kSrgbMargin = 1e-5;    // how near to 0 and 1 linear sRGB may come

struct RecoveredReflectance {
    Reflectance reflectance;  // strictly between 0 and 1
    bool exact = false;       // it has the colour asked for, not one nearer to grey
    int steps = 0;            // of Newton's method, in the last solution
};

[[nodiscard]] RecoveredReflectance recover_reflectance(const XYZ& target, const TristimulusWeights& weights);
[[nodiscard]] RecoveredReflectance recover_reflectance(const Lab& target, const TristimulusWeights& weights);

// An 8-bit colour of a screen, seen in D65 by the 2 degree observer.
[[nodiscard]] RecoveredReflectance recover_reflectance(const std::array<std::uint8_t, 3>& srgb);

// Linear sRGB, as an average over many pixels gives it.
[[nodiscard]] RecoveredReflectance recover_reflectance(const Rgb& linear_srgb);

}  // namespace fadewright::colour
