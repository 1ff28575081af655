// Dots: reflectance of a ground under randomly placed splats that dried before they could join (dry spray).
//
// The number k of splats over a point is Poisson distributed about the mean m = film / splat thickness. From
// a distance the dots are not resolved and their reflectances average:
//
//     R = sum over k of P(k; m) R_k              R_k: reflectance of k splats on top of each other
//
// For opaque splats this is the area average of bare and covered ground. In a white or translucent ground
// light spreads sideways, enters beside a dot and leaves below it, so dots appear stronger than their area
// (optical dot gain); the powers 1/n are averaged instead, n from 1 (no spread) to 2 (spread over many dots):
//
//     R^(1/n) = sum over k of P(k; m) R_k^(1/n).
//
// The splats are given by their reflectances R_0 (the ground), R_1, R_2 ...; splats beyond the last one
// change nothing, so opaque dots are just two numbers. kernels/layer_stack.h is the fast version for n = 1,
// used for pictures; here are the single terms, which variance and graininess need.
//
// Source: [matheron1975] (Boolean model of splats), [murray1936] (average by area), [yule1951] (powers).
// Holds for  splats that fall independently; n about 1 on a hard opaque ground, 1.2 to 1.7 on a white
//            scattering one
// Accuracy   mean within 1e-13 of kernels::lay_dots
// Checks     tests/film/dots_test.cpp: tables, and a million simulated droplets
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::film {

// Probabilities of 0, 1, ... splats over a point. The last of `count` is the probability of that many or
// more.
[[nodiscard]] std::vector<double> splat_probabilities(double mean_splats, std::size_t count);

// Number of terms after which the remainder is below rounding.
[[nodiscard]] std::size_t significant_splats(double mean_splats);

// R_0, R_1, ... of a paint of K and S per micrometre over the ground: as many as the mean needs.
[[nodiscard]] std::vector<double> reflectance_by_splat_count(double K, double S, double splat_um,
                                                             double ground, double mean_splats);

struct DotStatistics {
    double mean;
    double variance;  // from point to point
};

[[nodiscard]] DotStatistics dot_statistics(std::span<const double> reflectances, double mean_splats);

// Mean with lateral spread of light in the ground; n of at least 1.
[[nodiscard]] double yule_nielsen_mean(std::span<const double> reflectances, double mean_splats, double n);

}  // namespace fadewright::film
