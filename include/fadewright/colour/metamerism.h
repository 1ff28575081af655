// Metamerism index: the colour difference, in one light, of a pair that matches in another.
//
// A standard and a batch with different pigments may match in daylight and differ under warm bulbs. If they
// already differ a little in the reference light, that difference is corrected first, or it would count as
// metamerism:
//
//     none            difference of the uncorrected pair in the test light
//     multiplicative  XYZ_batch,test times XYZ_standard,ref / XYZ_batch,ref, for X, Y and Z separately
//     additive        XYZ_batch,test plus XYZ_standard,ref - XYZ_batch,ref; for comparison only: a difference
//                     of XYZ does not carry over to another light, and the results are too large
//     parameric       the batch gets the standard's fundamental: N' = P N_standard + (1 - P) N_batch with
//                     P = A (A'A)^-1 A' and A the weights of the reference light, one column each for X, Y, Z
//
// Source: [fairman1987] (parameric correction), [iso18314-4] (names of the corrections).
// Holds for  solid colours; both spectra on one grid, their ends held constant as for the weights. Parameric
//            reflectances may be slightly outside 0 to 1.
// Accuracy   all printed digits of tests/published/metamer_indices.csv (four places)
// Checks     tests/colour/metamerism_test.cpp
#pragma once

#include "fadewright/colour/illuminant.h"

#include <array>
#include <span>
#include <vector>

namespace fadewright::colour {

enum class Correction { none, multiplicative, additive, parameric };

// Weights of X, Y and Z of an illuminant and observer, for each wavelength of a grid.
using GridWeights = std::span<const std::array<double, 3>>;

struct PairDifference {
    double e76 = 0;    // Euclidean distance in Lab
    double e2000 = 0;  // CIEDE2000
};

// All four have the same length (contract). With `test` equal to `reference` and no correction: the match
// itself.
[[nodiscard]] PairDifference metamerism(std::span<const double> standard, std::span<const double> batch,
                                        GridWeights reference, GridWeights test, Correction correction);

[[nodiscard]] PairDifference metamerism(const Reflectance& standard, const Reflectance& batch,
                                        const TristimulusWeights& reference, const TristimulusWeights& test,
                                        Correction correction);

// N', which matches the standard in the reference light exactly. The weights must be linearly independent
// (contract).
[[nodiscard]] std::vector<double> parameric_batch(std::span<const double> standard,
                                                  std::span<const double> batch, GridWeights reference);

}  // namespace fadewright::colour
