// Stripes along a line as an eye has them: lightness less a smooth fit, through the eye's sensitivity.
//
//     answer(x) = sum over k of weights[|k|] L*(x + k step)
//
// The smooth fit is (1 - (1 - G)^5) L*, G a Gaussian; what it leaves goes through the contrast sensitivity S
// (colour/visibility.h), so that the answer, as contrast dY / Y of L*, is in times the threshold. An even colour has
// none.
//
// Symbols    degrees at the eye
// Source: [barten1999] (contrast sensitivity S); the fit is our own derivation.
// Holds for  steps short against the stripes; weights go on for 10 spreads and 2 degrees
// Checks     tests/render/fade_figures_test.cpp
#pragma once

#include "fadewright/colour/visibility.h"

#include <vector>

namespace fadewright::colour {

inline constexpr double kMaxFrequency_per_deg = 60;  // beyond it the eye sees next to nothing
inline constexpr double kFitWidthShare = 1.0 / 8;    // the Gaussian's spread, of a fade's 10 to 90 %

// For a fit of that spread, from the middle outwards; the other side is the same.
[[nodiscard]] std::vector<double> banding_filter(double fit_deg, double step_deg, const VisualField& field);

}  // namespace fadewright::colour
