// The colours along a line at even steps, and smoothing along it. Private to the figures of a fade.
//
// Between the given places runs a cubic whose slopes are those of the parabola through three neighbours, held
// to three times the flatter side: smooth where the colours are, and never past a step. Beyond its ends the line
// is turned about its end points.
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/render/fade_figures.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::render {

struct EvenLine {
    double start_mm = 0, step_mm = 1;
    std::vector<double> L, a, b;

    [[nodiscard]] double at_mm(std::size_t i) const noexcept {
        return start_mm + static_cast<double>(i) * step_mm;
    }
    [[nodiscard]] colour::Lab lab(std::size_t i) const noexcept { return {L[i], a[i], b[i]}; }
    [[nodiscard]] std::size_t size() const noexcept { return L.size(); }
};

// At an even number of steps no longer than asked for, but never more than kMostPlaces.
[[nodiscard]] EvenLine even_line(std::span<const FadePlace> places, double longest_step_mm);

inline constexpr std::size_t kMostPlaces = 60'001;

// Slope per mm of the straight line laid over `half_mm` to either side.
[[nodiscard]] std::vector<double> line_slopes(std::span<const double> values, double step_mm, double half_mm);

// Weights at whole steps from the middle outwards; the other side is the same, or the negative.
enum class Sides { alike, opposite };
[[nodiscard]] std::vector<double> through(std::span<const double> values, std::span<const double> weights,
                                          Sides sides);

}  // namespace fadewright::render
