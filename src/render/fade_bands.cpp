#include "fade_bands.h"

#include "fade_line.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace fadewright::render {
namespace {

constexpr double kFinest_per_deg = 60;     // beyond it the eye sees next to nothing
constexpr double kFitOfWidth = 1.0 / 8;    // spread of the smooth fit's Gaussian
constexpr double kFitTimes = 5;            // the fit is laid over what it left
constexpr double kUnjudgedOfWidth = 0.25;  // at either end of the line
constexpr double kLeastL = 1;              // what is darker counts as this dark

// Weights of the eye's answer to what the fit leaves: the cosine transform of S(u) (1 - G(u))^5.
std::vector<double> eye_weights(double fit_deg, double step_deg, const colour::ViewedField& field) {
    constexpr double kFitReach = 10, kEyeReach_deg = 2, kStepsAcrossReach = 4;
    const double reach_deg = kFitReach * fit_deg + kEyeReach_deg;
    const auto reach = static_cast<std::size_t>(std::ceil(reach_deg / step_deg));
    const double finest = std::min(kFinest_per_deg, 0.5 / step_deg);
    const auto waves = static_cast<std::size_t>(std::ceil(finest * kStepsAcrossReach * reach_deg));
    const double du = finest / static_cast<double>(waves);

    std::vector<double> answer(waves);
    for (std::size_t j = 0; j < waves; ++j) {
        const double u = (static_cast<double>(j) + 0.5) * du;
        const double turn = std::numbers::pi * fit_deg * u;
        const double left = -std::expm1(-2 * turn * turn);
        answer[j] = colour::contrast_sensitivity(u, field) * std::pow(left, kFitTimes);
    }
    std::vector<double> weights(reach + 1);
    double others = 0;
    for (std::size_t i = 0; i <= reach; ++i) {
        const double x = static_cast<double>(i) * step_deg;
        // cos of (j + 1/2) angles, each turned on from the one before.
        const double angle = 2 * std::numbers::pi * du * x;
        const double turn_c = std::cos(angle), turn_s = std::sin(angle);
        double c = std::cos(angle / 2), s = std::sin(angle / 2), sum = 0;
        for (std::size_t j = 0; j < waves; ++j) {
            sum += answer[j] * c;
            const double next = c * turn_c - s * turn_s;
            s = s * turn_c + c * turn_s;
            c = next;
        }
        weights[i] = 2 * sum * du * step_deg;
        if (i > 0) others += 2 * weights[i];
    }
    weights[0] = -others;  // nothing of an even colour
    return weights;
}

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
        through(line.L, eye_weights(fit_deg, step_deg, seen_by.field), Sides::alike);
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
