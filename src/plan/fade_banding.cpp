#include "fade_banding.h"

#include "fadewright/colour/banding_filter.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace fadewright::plan {
namespace {

// At both ends of the line, where banding is not assessed (render/fade_metrics.h).
constexpr double kUnassessedShare = 0.25, kUnassessedWeight = 0.3;
constexpr double kMinL = 1;  // darker colours count as this L*

}  // namespace

BandingFilter::BandingFilter(const SampleLine& sample_line, std::span<const TargetSample> targets)
    : count_(sample_line.u_mm.size()), responses_(count_ * count_) {
    const double mm_per_deg = colour::millimetres_per_degree(sample_line.view_distance).value;
    const double first = sample_line.u_mm.front(), last = sample_line.u_mm.back();
    const double step_deg = (last - first) / static_cast<double>(count_ - 1) / mm_per_deg;
    const double fit_deg = colour::kFitWidthShare * sample_line.ten_to_ninety_mm / mm_per_deg;
    const std::vector<double> weights = colour::banding_filter(fit_deg, step_deg, {});
    const double unassessed_mm = kUnassessedShare * sample_line.ten_to_ninety_mm;
    const auto reach = static_cast<std::ptrdiff_t>(weights.size()) - 1;
    for (std::size_t i = 0; i < count_; ++i) {
        const bool assessed =
            sample_line.u_mm[i] > first + unassessed_mm && sample_line.u_mm[i] < last - unassessed_mm;
        const double gain = colour::contrast_of_lightness_step(std::max(targets[i].lab.L, kMinL), 1) *
                            (assessed ? 1 : kUnassessedWeight);
        for (std::ptrdiff_t k = -reach; k <= reach; ++k)
            add_response(static_cast<std::ptrdiff_t>(i) + k, i,
                         gain * weights[static_cast<std::size_t>(std::abs(k))]);
    }
}

// Beyond its ends the line is extended by point reflection.
void BandingFilter::add_response(std::ptrdiff_t sample, std::size_t output, double weight) {
    const auto last = static_cast<std::ptrdiff_t>(count_) - 1;
    const auto at = [&](std::ptrdiff_t index) -> double& {
        return responses_[static_cast<std::size_t>(index) * count_ + output];
    };
    double sign = 1;
    while (sample < 0 || sample > last) {
        const std::ptrdiff_t end = sample < 0 ? 0 : last;
        at(end) += 2 * sign * weight;
        sign = -sign;
        sample = 2 * end - sample;
    }
    at(sample) += sign * weight;
}

void BandingFilter::add(std::size_t first, std::span<const double> lightness, double* out) const {
    for (std::size_t k = 0; k < lightness.size(); ++k) {
        const double* response = responses_.data() + (first + k) * count_;
        const double L = lightness[k];
        for (std::size_t i = 0; i < count_; ++i) out[i] += L * response[i];
    }
}

}  // namespace fadewright::plan
