#include "fade_stripes.h"

#include "fadewright/colour/stripes.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace fadewright::plan {
namespace {

// At either end of the line, where bands are not judged (render/fade_figures.h).
constexpr double kUnjudgedOfWidth = 0.25, kUnjudgedCounts = 0.3;
constexpr double kLeastL = 1;  // what is darker counts as this dark

}  // namespace

Stripes::Stripes(const SpotsAcross& spots, std::span<const WishedPlace> wished)
    : count_(spots.u_mm.size()), answers_(count_ * count_) {
    const double mm_per_deg = colour::millimetres_per_degree(spots.view_distance).value;
    const double first = spots.u_mm.front(), last = spots.u_mm.back();
    const double step_deg = (last - first) / static_cast<double>(count_ - 1) / mm_per_deg;
    const double fit_deg = colour::kFitOfWidth * spots.ten_to_ninety_mm / mm_per_deg;
    const std::vector<double> weights = colour::stripe_weights(fit_deg, step_deg, {});
    const double unjudged = kUnjudgedOfWidth * spots.ten_to_ninety_mm;
    const auto reach = static_cast<std::ptrdiff_t>(weights.size()) - 1;
    for (std::size_t i = 0; i < count_; ++i) {
        const bool judged = spots.u_mm[i] > first + unjudged && spots.u_mm[i] < last - unjudged;
        const double counts = colour::contrast_of_lightness_step(std::max(wished[i].lab.L, kLeastL), 1) *
                              (judged ? 1 : kUnjudgedCounts);
        for (std::ptrdiff_t k = -reach; k <= reach; ++k)
            spread(static_cast<std::ptrdiff_t>(i) + k, i,
                   counts * weights[static_cast<std::size_t>(std::abs(k))]);
    }
}

// Beyond its ends the line is turned about them.
void Stripes::spread(std::ptrdiff_t spot, std::size_t answered, double weight) {
    const auto last = static_cast<std::ptrdiff_t>(count_) - 1;
    const auto at = [&](std::ptrdiff_t of) -> double& {
        return answers_[static_cast<std::size_t>(of) * count_ + answered];
    };
    double sign = 1;
    while (spot < 0 || spot > last) {
        const std::ptrdiff_t end = spot < 0 ? 0 : last;
        at(end) += 2 * sign * weight;
        sign = -sign;
        spot = 2 * end - spot;
    }
    at(spot) += sign * weight;
}

void Stripes::add(std::size_t first, std::span<const double> lightness, double* out) const {
    for (std::size_t k = 0; k < lightness.size(); ++k) {
        const double* answer = answers_.data() + (first + k) * count_;
        const double L = lightness[k];
        for (std::size_t i = 0; i < count_; ++i) out[i] += L * answer[i];
    }
}

}  // namespace fadewright::plan
