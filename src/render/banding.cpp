#include "banding.h"

#include "fadewright/colour/visibility.h"
#include "resampled_line.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace fadewright::render {
namespace {

using colour::kMaxFrequency_per_deg, colour::kFitWidthShare;
constexpr double kIgnoredOfWidth = 0.25;  // at either end of the line
constexpr double kMin_L = 1;              // darker colours count as this dark

// Maximum of the parabola through three neighbours of which the middle one is the largest.
double peak(double before, double middle, double after) noexcept {
    const double bend = before - 2 * middle + after;
    return bend == 0 ? std::abs(middle) : std::abs(middle - (after - before) * (after - before) / (8 * bend));
}

}  // namespace

Banding strongest_banding(std::span<const FadeSample> samples, double width_mm, const ViewCondition& view) {
    const double mm_per_deg = colour::millimetres_per_degree(view.distance).value;
    const ResampledLine line = resample_line(samples, mm_per_deg / (2 * kMaxFrequency_per_deg));
    const double step_deg = line.step_mm / mm_per_deg;
    const double fit_deg = kFitWidthShare * width_mm / mm_per_deg;
    const std::vector<double> response =
        convolve(line.L, colour::banding_filter(fit_deg, step_deg, view.field), Symmetry::even);
    const double ignored_mm = kIgnoredOfWidth * width_mm;
    const double last_mm = line.position_mm(line.size() - 1);
    Banding out;
    out.at_mm = (line.start_mm + last_mm) / 2;
    for (std::size_t i = 1; i + 1 < line.size(); ++i) {
        const double x = line.position_mm(i);
        if (x < line.start_mm + ignored_mm || x > last_mm - ignored_mm) continue;
        const double size = std::abs(response[i]);
        if (size < std::abs(response[i - 1]) || size < std::abs(response[i + 1])) continue;
        const double over_threshold = colour::contrast_of_lightness_step(
            std::max(line.L[i], kMin_L), peak(response[i - 1], response[i], response[i + 1]));
        if (over_threshold > out.over_threshold) out = {over_threshold, x};
    }
    return out;
}

}  // namespace fadewright::render
