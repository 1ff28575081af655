// Metamerism: how far apart a pair that matches in one light is in another.
//
// A standard and a batch with different pigments may look alike in daylight and part in lamplight. If they
// already differ a little in the reference light, that difference has to be taken out first, or it is counted
// as metamerism:
//
//     none            difference of the pair as it is, in the test light
//     multiplicative  XYZ_batch,test times XYZ_standard,ref / XYZ_batch,ref, each of X, Y and Z by itself
//     additive        XYZ_batch,test plus XYZ_standard,ref - XYZ_batch,ref; for comparison only: a difference
//                     of XYZ in one light says little about another, and results come out too large
//     parameric       the batch gets the standard's fundamental: N' = P N_standard + (1 - P) N_batch with
//                     P = A (A'A)^-1 A' and A the weights of the reference light, a column each for X, Y, Z
//
// Source: [fairman1987] (parameric correction), [iso18314-4] (names of the corrections).
// Holds for  solid colours; both spectra on one grid, their ends held as the weights' were. Parameric
//            reflectances may leave 0 to 1 a little.
// Accuracy   all printed digits of tests/published/metamer_indices.csv (four places)
// Checks     tests/colour/metamerism_test.cpp
#pragma once

#include "fadewright/colour/illuminant.h"

#include <array>
#include <span>
#include <vector>

namespace fadewright::colour {

enum class Correction { none, multiplicative, additive, parameric };

// One light and observer on some grid: weights of X, Y and Z for each of its wavelengths.
using GridWeights = std::span<const std::array<double, 3>>;

struct PairDifference {
    double e76 = 0;    // plain distance in Lab
    double e2000 = 0;  // CIEDE2000
};

// All four of one length (contract). With `test` equal to `reference` and no correction: how well they match.
[[nodiscard]] PairDifference metamerism(std::span<const double> standard, std::span<const double> batch,
                                        GridWeights reference, GridWeights test, Correction correction);

[[nodiscard]] PairDifference metamerism(const Reflectance& standard, const Reflectance& batch,
                                        const TristimulusWeights& reference, const TristimulusWeights& test,
                                        Correction correction);

// N', which matches the standard in the reference light exactly. The weights see three things (contract).
[[nodiscard]] std::vector<double> parameric_batch(std::span<const double> standard,
                                                  std::span<const double> batch, GridWeights reference);

}  // namespace fadewright::colour
