// Dots: what a ground looks like under splats that fell at random and dried before they could join.
//
// Over a point lie k splats, k by chance (Poisson) about the mean m = film / splat. From afar the eye takes the
// average of the light that comes back:
//
//     R = sum over k of P(k; m) R_k              R_k: what a pile of k splats sends back
//
// For opaque splats this is the average by area of bare and covered ground. In a white or translucent ground
// light wanders sideways, enters beside a dot and leaves under it, so dots look stronger than their area;
// with n from 1 (no wandering) to 2 (wanders far) the powers 1/n are averaged instead:
//
//     R^(1/n) = sum over k of P(k; m) R_k^(1/n).
//
// A pile is given by its reflectances R_0 (the ground), R_1, R_2 ...; beyond the last one more splats change
// nothing, so opaque dots are just two numbers. kernels/layer_stack.h sums the same for n = 1 at full speed,
// where pictures are made; here are the terms themselves, for variance and grain.
//
// Source     Boolean model of splats, Matheron 1975 (from memory); average by area Murray 1936, J. Franklin
//            Inst. 221(6):721-744; powers Yule & Nielsen 1951 (both from memory)
// Holds for  splats that fall independently; a hard opaque ground n about 1, a white scattering one 1.2 to 1.7
// Accuracy   mean within 1e-13 of kernels::lay_fog
// Checks     tests/film/dots_test.cpp: tables, and a million simulated droplets
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::film {

// Chances of 0, 1, ... splats over a point. The last of `count` is the chance of that many or more.
[[nodiscard]] std::vector<double> splat_probabilities(double mean_splats, std::size_t count);

// So many terms that what is left out is below rounding.
[[nodiscard]] std::size_t significant_splats(double mean_splats);

// R_0, R_1, ... of a paint of K and S per micrometre over the ground, enough for the mean.
[[nodiscard]] std::vector<double> reflectance_by_splat_count(double K, double S, double splat_um,
                                                             double ground, double mean_splats);

struct DotStatistics {
    double mean;
    double variance;  // from place to place
};

[[nodiscard]] DotStatistics dot_statistics(std::span<const double> reflectances, double mean_splats);

// Mean with light wandering sideways in the ground; n from 1 up.
[[nodiscard]] double yule_nielsen_mean(std::span<const double> reflectances, double mean_splats, double n);

}  // namespace fadewright::film
