// Filter for banding along a line: lightness minus a smooth fit, weighted by the contrast sensitivity of the
// eye.
//
//     response(x) = sum over k of weights[|k|] L*(x + k step)
//
// The smooth fit is (1 - (1 - G)^5) L*, G a Gaussian; the residual is filtered by the contrast sensitivity S
// (colour/visibility.h), so that the response, as contrast dY / Y of L*, is in multiples of the visible
// threshold. A uniform colour has a response of 0.
//
// Symbols    angles in degrees at the eye
// Source: [barten1999] (contrast sensitivity S); the fit is our own derivation.
// Holds for  steps much shorter than the bands; weights extend over 10 standard deviations and 2 degrees
// Checks     tests/render/fade_metrics_test.cpp
#pragma once

#include "fadewright/colour/visibility.h"

#include <vector>

namespace fadewright::colour {

inline constexpr double kMaxFrequency_per_deg = 60;  // the sensitivity above it is negligible
// Standard deviation of the Gaussian, as a share of the 10 to 90 % width of the fade.
inline constexpr double kFitWidthShare = 1.0 / 8;
// Banding is not assessed at either end of a line, over this share of the 10 to 90 % width of the fade.
inline constexpr double kUnassessedShare = 0.25;
inline constexpr double kMinBanding_L = 1;  // darker colours count as this L*

// For a fit of that standard deviation, from the centre outwards; the filter is symmetric.
[[nodiscard]] std::vector<double> banding_filter(double fit_deg, double step_deg, const VisualField& field);

}  // namespace fadewright::colour
