// Stripes of lightness along a fade, as an eye has them: rows of errors for the fit of its passes.
#pragma once

#include "colour_path.h"
#include "fadewright/base/quantity.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::plan {

// Where the fit looks. `even`: at even steps across the fade, so that stripes can be told from it.
struct SampleLine {
    std::vector<double> u_mm;
    bool evenly_spaced = false;
    double ten_to_ninety_mm = 0;  // wanted
    Millimetres view_distance;
};

// L* at all spots -> stripes in times the contrast that is just seen (colour/stripes.h), for the wished lightness.
class BandingFilter {
public:
    BandingFilter(const SampleLine& sample_line, std::span<const TargetSample> targets);

    // Adds the answer to lightness at spots from `first` on to out, one of each spot.
    void add(std::size_t first, std::span<const double> lightness, double* out) const;

private:
    void add_response(std::ptrdiff_t sample, std::size_t output, double weight);

    std::size_t count_;
    std::vector<double> responses_;  // of each spot's lightness, at all spots
};

}  // namespace fadewright::plan
