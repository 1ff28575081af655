// Visible banding of lightness along a fade: rows of residuals for the fit of its passes.
#pragma once

#include "colour_path.h"
#include "fadewright/base/quantity.h"

#include <Eigen/Core>

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::planner {

// Samples of the fit. `even`: at even steps across the fade, so that banding can be calculated.
struct SampleLine {
    std::vector<double> u_mm;
    bool evenly_spaced = false;
    double ten_to_ninety_mm = 0;  // target
    Millimetres view_distance;
};

// L* at all samples -> banding over the visible threshold (colour/visibility.h), for the target
// lightness.
class BandingFilter {
public:
    BandingFilter(const SampleLine& sample_line, std::span<const TargetSample> targets);

    // At all samples, of lightness at the samples from `first` on.
    [[nodiscard]] Eigen::VectorXd banding(Eigen::Index first, const Eigen::VectorXd& lightness) const {
        return responses_.middleCols(first, lightness.size()) * lightness;
    }

private:
    void add_response(Eigen::Index sample, Eigen::Index output, double weight);

    Eigen::MatrixXd responses_;  // at all samples (rows), to each sample's lightness (columns)
};

}  // namespace fadewright::planner
