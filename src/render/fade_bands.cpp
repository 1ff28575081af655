#include "fade_bands.h"

#include "fade_line.h"
#include "fadewright/colour/stripes.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace fadewright::render {
namespace {

using colour::kFinest_per_deg, colour::kFitOfWidth;
constexpr double kUnjudgedOfWidth = 0.25;  // at either end of the line
constexpr double kLeastL = 1;              // what is darker counts as this dark

// Greatest size of the parabola through three neighbours, the middle one the greatest.
double peak(double before, double middle, double after) noexcept {
    const double bend = before - 2 * middle + after;
    return bend == 0 ? std::abs(middle) : std::abs(middle - (after - before) * (after - before) / (8 * bend));
}

}  // namespace

Bands bands(std::span<const FadePlace> places, double width_mm, const Onlooker& seen_by) {
    const double mm_per_deg = colour::millimetres_per_degree(seen_by.distance).value;
    const EvenLine line = even_line(places, mm_per_deg / (2 * kFinest_per_deg));
    const double step_deg = line.step_mm / mm_per_deg;
    const double fit_deg = kFitOfWidth * width_mm / mm_per_deg;
    const std::vector<double> answer =
        through(line.L, colour::stripe_weights(fit_deg, step_deg, seen_by.field), Sides::alike);
    const double unjudged = kUnjudgedOfWidth * width_mm;
    const double last_mm = line.at_mm(line.size() - 1);
    Bands out;
    out.at_mm = (line.start_mm + last_mm) / 2;
    for (std::size_t i = 1; i + 1 < line.size(); ++i) {
        const double x = line.at_mm(i);
        if (x < line.start_mm + unjudged || x > last_mm - unjudged) continue;
        const double size = std::abs(answer[i]);
        if (size < std::abs(answer[i - 1]) || size < std::abs(answer[i + 1])) continue;
        const double times = colour::contrast_of_lightness_step(
            std::max(line.L[i], kLeastL), peak(answer[i - 1], answer[i], answer[i + 1]));
        if (times > out.times_threshold) out = {times, x};
    }
    return out;
}

}  // namespace fadewright::render
