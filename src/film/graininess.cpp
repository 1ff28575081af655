#include "fadewright/film/graininess.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/dots.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

namespace fadewright::film {
namespace {

// Root of 2 pi times the integral of u (eye response)^2 du: checked in graininess_test.cpp.
constexpr double kEyeBandwidth_cycles_per_deg = 23.3;

// Lightness: linear below, cube root above. Source: [iso11664-4].
constexpr double kLinearBelow = 216.0 / 24389;
constexpr double kLinearSlope = 24389.0 / 27;

constexpr int kSteps = 64;  // equal

// (1/a) times the integral over the plane of f(overlap), f(0) being 0. With the distance cos(angle) diameters
// the integrand is smooth in the angle and Simpson's rule is accurate.
template <class Function>
double plane_integral(const Function& f) {
    const double step = std::numbers::pi / 2 / kSteps;
    double sum = 0;
    for (int i = 0; i <= kSteps; ++i) {
        const double angle = i * step;
        const double t = std::cos(angle);
        const double weight = i == 0 || i == kSteps ? 1 : i % 2 == 1 ? 4 : 2;
        sum += weight * 8 * t * std::sin(angle) * f(disc_overlap(t));
    }
    return sum * step / 3;
}

// Covariance of two points that share the fraction `shared` of their splats: their common number is Poisson
// distributed with mean m shared, and each point has others of its own.
double covariance(std::span<const double> reflectances, double m, double shared) {
    const std::size_t last = reflectances.size() - 1;
    const std::vector<double> shared_counts = splat_probabilities(m * shared, reflectances.size());
    const std::vector<double> own_counts = splat_probabilities(m * (1 - shared), reflectances.size());
    std::vector<double> expected(reflectances.size(), 0.0);
    double mean = 0;
    for (std::size_t s = 0; s <= last; ++s) {
        for (std::size_t k = 0; k <= last; ++k)
            expected[s] += own_counts[k] * reflectances[std::min(s + k, last)];
        mean += shared_counts[s] * expected[s];
    }
    double sum = 0;
    for (std::size_t s = 0; s <= last; ++s)
        sum += shared_counts[s] * (expected[s] - mean) * (expected[s] - mean);
    return sum;
}

}  // namespace

double disc_overlap(double diameters) noexcept {
    const double t = std::abs(diameters);
    if (t >= 1) return 0;
    return 2 / std::numbers::pi * (std::acos(t) - t * std::sqrt(1 - t * t));
}

double graininess_number(double mean_splats) {
    FW_EXPECTS(mean_splats >= 0);
    const double m = mean_splats;
    return plane_integral([m](double k) { return std::exp(-m * (2 - k)) - std::exp(-2 * m); });
}

double graininess_per_splat(std::span<const double> reflectances, double mean_splats) {
    FW_EXPECTS(!reflectances.empty());
    FW_EXPECTS(mean_splats >= 0);
    // Many thin splats: the likely reflectances are nearly equal, the covariance follows the overlap, whose
    // own integral is 1.
    if (mean_splats > kMaxSplatsForGraininess) return dot_statistics(reflectances, mean_splats).variance;
    // Higher numbers of splats have no probability.
    const auto relevant = reflectances.first(std::min(reflectances.size(), significant_splats(mean_splats)));
    return plane_integral([&](double k) { return covariance(relevant, mean_splats, k); });
}

double splat_area_mm2(Millimetres diameter) noexcept {
    return std::numbers::pi / 4 * diameter.value * diameter.value;
}

double visible_graininess(double power_mm2, Millimetres viewing_distance) {
    FW_EXPECTS(power_mm2 >= 0);
    FW_EXPECTS(viewing_distance.value > 0);
    const double g = viewing_distance.value * std::numbers::pi / 180;
    return std::sqrt(power_mm2) * kEyeBandwidth_cycles_per_deg / g;
}

double graininess_in_lightness(double sigma_Y, double Y) {
    FW_EXPECTS(Y >= 0);
    if (Y <= kLinearBelow) return kLinearSlope * sigma_Y;
    return 116 * std::cbrt(Y) / 3 * sigma_Y / Y;
}

GraininessGrade grade_graininess(double sigma_L) noexcept {
    if (sigma_L > kCoarse_L) return GraininessGrade::coarse;
    if (sigma_L > kGrainy_L) return GraininessGrade::grainy;
    if (sigma_L >= kJustVisibleGrain_L) return GraininessGrade::just_visible;
    return GraininessGrade::invisible;
}

// Source: [dooley1979].
double eye_response(double cycles_per_deg) noexcept {
    constexpr double kScale = 5.05, kFall = 0.138, kRise = 0.1;
    return kScale * std::exp(-kFall * cycles_per_deg) * -std::expm1(-kRise * cycles_per_deg);
}

}  // namespace fadewright::film
