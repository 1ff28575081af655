// Grain: how rough a field of dots looks from where somebody stands.
//
// Dots of random place make noise. From afar the eye cannot tell one dot, but it still sees some places a
// little darker than others; what counts is the noise at the coarsest scale, its power per area. Two points
// see the same splats with the share k of overlap of two discs that far apart, so that with round splats of
// area a and a mean of m over a point
//
//     power = integral over the plane of the covariance,   opaque dots: power = a (R_s - R_p)^2 n(m)
//     n(m)  = exp(-2m) / a  times the integral of (exp(m k) - 1)
//
// and for any piles of splats the covariance is the variance of what the shared splats alone let expect. The
// eye passes a band of spatial frequencies, as wide as white noise over C cycles per degree either way:
//
//     sigma_Y = sqrt(power) C / g,   g millimetres per degree
//     sigma_L = (L* + 16) / 3  sigma_Y / Y
//
// Grain is strongest near 43 % of opaque cover and falls as splat width over distance of view.
//
// Symbols    Y relative luminance, 1 for white; power mm2 (of reflectance squared); m splats over a point
// Source     Boolean model, Matheron 1975 (from memory), its covariance with translucent splats derived here;
//            visual band Dooley & Shaw 1979, J. Appl. Photogr. Eng. 5(4):190-196 (from memory)
// Holds for  splats of one size, small against what the eye resolves (from arm's length below 0.1 mm); round
//            splats; daylight. The band of the eye is known within a factor of 2.7, towards less grain; the
//            words are uncalibrated
// Accuracy   n(m) within 1e-8; piles beyond kMostForGrain splats are taken as small changes of one film
// Checks     tests/film/grain_test.cpp, tests/published/{grain_number,grain_visible}.csv
#pragma once

#include "fadewright/base/quantity.h"

#include <span>
#include <string_view>

namespace fadewright::film {

// Share that two equal discs have in common, their middles so many diameters apart.
[[nodiscard]] double disc_overlap(double diameters) noexcept;

// n(m) of opaque dots.
[[nodiscard]] double graininess_number(double mean_splats);

// Power over the area of one splat; piles as in film/dots.h, in reflectance or in anything that adds up as
// light does (luminance behind a skin).
[[nodiscard]] double graininess_per_splat(std::span<const double> reflectances, double mean_splats);

inline constexpr double kMaxSplatsForGraininess = 200;

[[nodiscard]] double splat_area_mm2(Millimetres diameter) noexcept;

// Standard deviation of what the eye makes of the grain.
[[nodiscard]] double visible_graininess(double power_mm2, Millimetres viewing_distance);

// The same in L*, about a mean luminance of Y.
[[nodiscard]] double graininess_in_lightness(double sigma_Y, double Y);

[[nodiscard]] std::string_view graininess_label(double sigma_L) noexcept;

// The eye's response to a grating, 1 at its best.
[[nodiscard]] double eye_response(double cycles_per_deg) noexcept;

}  // namespace fadewright::film
