// Graininess: visible unevenness of a field of dots at a viewing distance.
//
// Dots at random points make noise. At a distance single dots are not resolved, but the noise is visible at
// coarse scales; what counts is its power per area at low spatial frequency. Two points share the fraction k
// of their splats, the overlap of two discs that far apart, so that with round splats of area a and a mean of
// m over a point
//
//     power = integral over the plane of the covariance,   opaque dots: power = a (R_s - R_p)^2 n(m)
//     n(m)  = exp(-2m) / a  times the integral of (exp(m k) - 1)
//
// and for translucent splats the covariance is the variance of the expectation given the shared splats alone.
// The eye passes a range of spatial frequencies, as wide as white noise over C cycles per degree either way:
//
//     sigma_Y = sqrt(power) C / g,   g millimetres per degree
//     sigma_L = (L* + 16) / 3  sigma_Y / Y
//
// Graininess is greatest near 43 % of opaque coverage and falls with splat width over viewing distance.
//
// Symbols    Y relative luminance, 1 for white; power mm2 (of reflectance squared); m splats over a point
// Source: [matheron1975] (Boolean model), its covariance with translucent splats our own derivation;
//            [dooley1979] (frequencies that the eye sees).
// Holds for  splats of one size, small against the resolution of the eye (at arm's length below 0.1 mm);
//            round splats; daylight. The visual range is known within a factor of 2.7, towards less
//            graininess; the grades are uncalibrated
// Accuracy   n(m) within 1e-8; above kMaxSplatsForGraininess splats as small changes of one film
// Checks     tests/film/graininess_test.cpp, tests/published/{grain_number,grain_visible}.csv
#pragma once

#include "fadewright/base/quantity.h"

#include <span>

namespace fadewright::film {

// Common area of two equal discs as a share of one, for a centre distance in diameters.
[[nodiscard]] double disc_overlap(double diameters) noexcept;

// n(m) of opaque dots.
[[nodiscard]] double graininess_number(double mean_splats);

// Power over the area of one splat; reflectances as in film/dots.h, or any quantity that is additive like
// light (luminance through a surface).
[[nodiscard]] double graininess_per_splat(std::span<const double> reflectances, double mean_splats);

inline constexpr double kMaxSplatsForGraininess = 200;

[[nodiscard]] double splat_area_mm2(Millimetres diameter) noexcept;

// Standard deviation of the graininess after the filter of the eye.
[[nodiscard]] double visible_graininess(double power_mm2, Millimetres viewing_distance);

// The same in L*, about a mean luminance of Y.
[[nodiscard]] double graininess_in_lightness(double sigma_Y, double Y);

// Limits of the grades; uncalibrated.
inline constexpr double kJustVisibleGrain_L = 0.3, kGrainy_L = 1, kCoarse_L = 3;
enum class GraininessGrade { invisible, just_visible, grainy, coarse };
[[nodiscard]] GraininessGrade grade_graininess(double sigma_L) noexcept;

// Contrast sensitivity of the eye to a grating, 1 at its maximum.
[[nodiscard]] double eye_response(double cycles_per_deg) noexcept;

}  // namespace fadewright::film
