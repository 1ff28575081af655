#include "fadewright/colour/banding_filter.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace fadewright::colour {
namespace {

constexpr double kFitPasses = 5;  // the fit is applied again to the residual

}  // namespace

// Weights of the response to the residual: the cosine transform of S(u) (1 - G(u))^5.
std::vector<double> banding_filter(double fit_deg, double step_deg, const VisualField& field) {
    constexpr double kFitReach = 10, kEyeReach_deg = 2, kStepsAcrossReach = 4;
    const double reach_deg = kFitReach * fit_deg + kEyeReach_deg;
    const auto reach = static_cast<std::size_t>(std::ceil(reach_deg / step_deg));
    const double max_frequency = std::min(kMaxFrequency_per_deg, 0.5 / step_deg);
    const auto waves = static_cast<std::size_t>(std::ceil(max_frequency * kStepsAcrossReach * reach_deg));
    const double du = max_frequency / static_cast<double>(waves);

    std::vector<double> response(waves);
    for (std::size_t j = 0; j < waves; ++j) {
        const double u = (static_cast<double>(j) + 0.5) * du;
        const double angle_u = std::numbers::pi * fit_deg * u;
        const double residue = -std::expm1(-2 * angle_u * angle_u);
        response[j] = contrast_sensitivity(u, field) * std::pow(residue, kFitPasses);
    }
    std::vector<double> weights(reach + 1);
    double other_sum = 0;
    for (std::size_t i = 0; i <= reach; ++i) {
        const double x = static_cast<double>(i) * step_deg;
        // cos of (j + 1/2) angles, by rotation from the previous one.
        const double angle = 2 * std::numbers::pi * du * x;
        const double step_cos = std::cos(angle), step_sin = std::sin(angle);
        double c = std::cos(angle / 2), s = std::sin(angle / 2), sum = 0;
        for (std::size_t j = 0; j < waves; ++j) {
            sum += response[j] * c;
            const double next = c * step_cos - s * step_sin;
            s = s * step_cos + c * step_sin;
            c = next;
        }
        weights[i] = 2 * sum * du * step_deg;
        if (i > 0) other_sum += 2 * weights[i];
    }
    weights[0] = -other_sum;  // no response to a uniform colour
    return weights;
}

}  // namespace fadewright::colour
