#include "fade_banding.h"

#include "fadewright/colour/visibility.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iterator>

namespace fadewright::planner {
namespace {

constexpr double kUnassessedWeight = 0.3;  // at both ends of the line

}  // namespace

BandingFilter::BandingFilter(const SampleLine& sample_line, std::span<const TargetSample> targets)
    : responses_(Eigen::MatrixXd::Zero(std::ssize(targets), std::ssize(targets))) {
    const double mm_per_deg = colour::millimetres_per_degree(sample_line.view_distance).value;
    const double first = sample_line.u_mm.front(), last = sample_line.u_mm.back();
    const double step_deg = (last - first) / static_cast<double>(responses_.cols() - 1) / mm_per_deg;
    const double fit_deg = colour::kFitWidthShare * sample_line.ten_to_ninety_mm / mm_per_deg;
    const std::vector<double> weights = colour::banding_filter(fit_deg, step_deg, {});
    const double unassessed_mm = colour::kUnassessedShare * sample_line.ten_to_ninety_mm;
    const auto reach = std::ssize(weights) - 1;
    for (std::size_t i = 0; i < targets.size(); ++i) {
        const bool assessed =
            sample_line.u_mm[i] > first + unassessed_mm && sample_line.u_mm[i] < last - unassessed_mm;
        const double gain =
            colour::contrast_of_lightness_step(std::max(targets[i].lab.L, colour::kMinBanding_L), 1) *
            (assessed ? 1 : kUnassessedWeight);
        const auto output = static_cast<Eigen::Index>(i);
        for (Eigen::Index k = -reach; k <= reach; ++k)
            add_response(output + k, output, gain * weights[static_cast<std::size_t>(std::abs(k))]);
    }
}

// Beyond its ends the line is extended by point reflection.
void BandingFilter::add_response(Eigen::Index sample, Eigen::Index output, double weight) {
    const Eigen::Index last = responses_.cols() - 1;
    double sign = 1;
    while (sample < 0 || sample > last) {
        const Eigen::Index end = sample < 0 ? 0 : last;
        responses_(output, end) += 2 * sign * weight;
        sign = -sign;
        sample = 2 * end - sample;
    }
    responses_(output, sample) += sign * weight;
}

}  // namespace fadewright::planner
