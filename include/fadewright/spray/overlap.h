// Overlap: evenness of infinite parallel passes.
//
// A pass has a profile p(u), symmetric, u in half widths from its centre. Passes of width W at overlap o are
// (1 - o) W apart, and their sum repeats with that spacing. Its unevenness is relative to the mean:
//
//     plus, minus      highest and lowest film, above and below the mean
//     half_range       half the height from trough to peak
//     cv               standard deviation
//     mean_over_peak   mean film over the peak of one pass
//
// The classic half overlap is even for passes with a triangular or Gaussian taper; a flat fan leaves
// striping.
//
// Source: own derivation: sums of the profiles themselves; for the Gaussian also its Fourier series,
//            half_range = 2 exp(-2 pi^2 sigma^2 / s^2) to first order. The parabola's least variance at
//            0.29 to 0.31 is a published anchor (see the table).
// Holds for  overlap from 0 to 0.95 (contract); equal, infinite, straight passes
// Accuracy   cv within 1e-6, extremes within 1e-5 of the mean
// Checks     tests/spray/overlap_test.cpp, tests/published/overlap_{shapes,powers,best,gaussian}.csv
#pragma once

#include "fadewright/base/quantity.h"

#include <functional>

namespace fadewright::spray {

// A pass: relative film at u half widths from its centre (u >= 0), 0 beyond `reach` half widths.
struct PassShape {
    std::function<double(double)> at;
    double reach = 1;
};

[[nodiscard]] PassShape gaussian_pass(
    double sigmas_in_width);  // width = so many sigma; 4 and 6 are both in use
[[nodiscard]] PassShape triangle();
[[nodiscard]] PassShape raised_cosine();
[[nodiscard]] PassShape parabola();
[[nodiscard]] PassShape half_ellipse();
[[nodiscard]] PassShape beta_pass(double exponent);  // (1 - u^2)^exponent; a fan's is taper - 1/2

struct Ripple {
    double mean_over_peak;
    double plus;
    double minus;
    double half_range;
    double cv;
};

[[nodiscard]] Ripple ripple(const PassShape& shape, Share overlap);

// The overlap of minimum cv between two others. cv has several minima; the range must hold one.
[[nodiscard]] Share evenest_overlap(const PassShape& shape, Share from, Share to);

}  // namespace fadewright::spray
