#include "fadewright/colour/stripes.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace fadewright::colour {
namespace {

constexpr double kFitTimes = 5;  // the fit is laid over what it left

}  // namespace

// Weights of the eye's answer to what the fit leaves: the cosine transform of S(u) (1 - G(u))^5.
std::vector<double> stripe_weights(double fit_deg, double step_deg, const ViewedField& field) {
    constexpr double kFitReach = 10, kEyeReach_deg = 2, kStepsAcrossReach = 4;
    const double reach_deg = kFitReach * fit_deg + kEyeReach_deg;
    const auto reach = static_cast<std::size_t>(std::ceil(reach_deg / step_deg));
    const double finest = std::min(kFinest_per_deg, 0.5 / step_deg);
    const auto waves = static_cast<std::size_t>(std::ceil(finest * kStepsAcrossReach * reach_deg));
    const double du = finest / static_cast<double>(waves);

    std::vector<double> answer(waves);
    for (std::size_t j = 0; j < waves; ++j) {
        const double u = (static_cast<double>(j) + 0.5) * du;
        const double turn = std::numbers::pi * fit_deg * u;
        const double left = -std::expm1(-2 * turn * turn);
        answer[j] = contrast_sensitivity(u, field) * std::pow(left, kFitTimes);
    }
    std::vector<double> weights(reach + 1);
    double others = 0;
    for (std::size_t i = 0; i <= reach; ++i) {
        const double x = static_cast<double>(i) * step_deg;
        // cos of (j + 1/2) angles, each turned on from the one before.
        const double angle = 2 * std::numbers::pi * du * x;
        const double turn_c = std::cos(angle), turn_s = std::sin(angle);
        double c = std::cos(angle / 2), s = std::sin(angle / 2), sum = 0;
        for (std::size_t j = 0; j < waves; ++j) {
            sum += answer[j] * c;
            const double next = c * turn_c - s * turn_s;
            s = s * turn_c + c * turn_s;
            c = next;
        }
        weights[i] = 2 * sum * du * step_deg;
        if (i > 0) others += 2 * weights[i];
    }
    weights[0] = -others;  // nothing of an even colour
    return weights;
}

}  // namespace fadewright::colour
