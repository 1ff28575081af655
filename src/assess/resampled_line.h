// The colours along a line resampled at even steps, and smoothing along it. Private to fade_metrics().
//
// Interpolation by a cubic whose slopes are those of the parabola through three neighbours, limited to three
// times the flatter side: smooth where the colours are, and without overshoot at a step. Beyond its ends the
// line is continued by point reflection about its end points.
#pragma once

#include "fadewright/assess/fade_metrics.h"
#include "fadewright/colour/lab.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::assess {

struct ResampledLine {
    double start_mm = 0, step_mm = 1;
    std::vector<double> L, a, b;

    [[nodiscard]] double position_mm(std::size_t i) const noexcept {
        return start_mm + static_cast<double>(i) * step_mm;
    }
    [[nodiscard]] colour::Lab lab(std::size_t i) const noexcept { return {L[i], a[i], b[i]}; }
    [[nodiscard]] std::size_t size() const noexcept { return L.size(); }
};

// At an even number of steps, not longer than requested, but at most kMaxPoints.
[[nodiscard]] ResampledLine resample_line(std::span<const FadeSample> samples, double max_step_mm);

inline constexpr std::size_t kMaxSamples = 60'001;

// Slope per mm of the straight line fitted over `half_mm` to either side.
[[nodiscard]] std::vector<double> line_slopes(std::span<const double> values, double step_mm, double half_mm);

// Weights at whole steps from the centre outwards; the other side is the same, or the negative.
enum class Symmetry { even, odd };
[[nodiscard]] std::vector<double> convolve(std::span<const double> values, std::span<const double> weights,
                                           Symmetry symmetry);

}  // namespace fadewright::assess
