#include "fadewright/spray/overlap.h"

#include "fadewright/base/contract.h"
#include "fadewright/spray/incomplete_beta.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace fadewright::spray {
namespace {

constexpr double kMaxOverlap = 0.95;
constexpr double kGaussianReach = 9;  // in sigma: resolves ripples of a few billionths
constexpr int kSamples = 4096;        // over half a spacing; the rest is symmetric

// The film of all passes at y half widths from the centre of one of them.
double film_at(const PassShape& shape, double spacing, double y) {
    double film = 0;
    const double from = std::ceil((-shape.reach - y) / spacing);
    const double to = std::floor((shape.reach - y) / spacing);
    for (double k = from; k <= to; ++k) film += shape.at(std::abs(y + k * spacing));
    return film;
}

// Positions of pass edges within half a spacing: the film may have a kink there.
double folded_edge(double reach, double spacing) {
    const double rest = reach - spacing * std::floor(reach / spacing);
    return std::min(rest, spacing - rest);
}

}  // namespace

PassShape gaussian_pass(double sigmas_in_width) {
    FW_EXPECTS(sigmas_in_width > 0);
    const double sigma = 2 / sigmas_in_width;
    return {[sigma](double u) { return std::exp(-u * u / (2 * sigma * sigma)); }, kGaussianReach * sigma};
}

PassShape triangle() {
    return {[](double u) { return std::max(0.0, 1 - u); }};
}

PassShape raised_cosine() {
    return {[](double u) {
        const double c = u < 1 ? std::cos(std::numbers::pi / 2 * u) : 0;
        return c * c;
    }};
}

PassShape parabola() { return beta_pass(1); }

PassShape half_ellipse() { return beta_pass(0.5); }

PassShape beta_pass(double exponent) {
    const FixedPower power(exponent);
    return {[power](double u) { return u < 1 ? power((1 - u) * (1 + u)) : 0; }};
}

Ripple ripple(const PassShape& shape, Share overlap) {
    FW_EXPECTS(overlap.value >= 0 && overlap.value <= kMaxOverlap);
    const double spacing = 2 * (1 - overlap.value);
    const double step = spacing / 2 / kSamples;
    const double edge = folded_edge(shape.reach, spacing);
    double highest = std::max(
        {film_at(shape, spacing, 0), film_at(shape, spacing, spacing / 2), film_at(shape, spacing, edge)});
    double lowest = std::min(
        {film_at(shape, spacing, 0), film_at(shape, spacing, spacing / 2), film_at(shape, spacing, edge)});
    std::vector<double> films(kSamples);
    double sum = 0;
    for (int i = 0; i < kSamples; ++i) {
        const double film = film_at(shape, spacing, (i + 0.5) * step);
        films[static_cast<std::size_t>(i)] = film;
        sum += film;
        highest = std::max(highest, film);
        lowest = std::min(lowest, film);
    }
    const double mean = sum / kSamples;
    double squares = 0;
    for (const double film : films) squares += (film - mean) * (film - mean);
    return {mean / shape.at(0), highest / mean - 1, 1 - lowest / mean, (highest - lowest) / (2 * mean),
            std::sqrt(squares / kSamples) / mean};
}

Share evenest_overlap(const PassShape& shape, Share from, Share to) {
    FW_EXPECTS(from.value < to.value);
    const double golden = std::numbers::phi - 1;
    constexpr double narrow_enough = 1e-6;
    double a = from.value, b = to.value;
    double c = b - golden * (b - a), d = a + golden * (b - a);
    double at_c = ripple(shape, Share{c}).cv, at_d = ripple(shape, Share{d}).cv;
    while (b - a > narrow_enough) {
        if (at_c < at_d) {
            b = d;
            d = c;
            at_d = at_c;
            c = b - golden * (b - a);
            at_c = ripple(shape, Share{c}).cv;
        } else {
            a = c;
            c = d;
            at_c = at_d;
            d = a + golden * (b - a);
            at_d = ripple(shape, Share{d}).cv;
        }
    }
    return Share{(a + b) / 2};
}

}  // namespace fadewright::spray
