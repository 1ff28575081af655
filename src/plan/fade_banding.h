// Visible banding of lightness along a fade: rows of residuals for the fit of its passes.
#pragma once

#include "colour_path.h"
#include "fadewright/base/quantity.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::plan {

// Samples of the fit. `even`: at even steps across the fade, so that banding can be calculated.
struct SampleLine {
    std::vector<double> u_mm;
    bool evenly_spaced = false;
    double ten_to_ninety_mm = 0;  // target
    Millimetres view_distance;
};

// L* at all samples -> banding over the visible threshold (colour/banding_filter.h), for the target
// lightness.
class BandingFilter {
public:
    BandingFilter(const SampleLine& sample_line, std::span<const TargetSample> targets);

    // Adds the response to lightness at samples from `first` on to out, one value per sample.
    void add(std::size_t first, std::span<const double> lightness, double* out) const;

private:
    void add_response(std::ptrdiff_t sample, std::size_t output, double weight);

    std::size_t count_;
    std::vector<double> responses_;  // to each sample's lightness, at all samples
};

}  // namespace fadewright::plan
