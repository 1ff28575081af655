// Axes of a plot: round steps, grid lines, labels, and where a value falls.
#pragma once

#include "fadewright/report/canvas.h"

#include <string>
#include <string_view>
#include <utility>

namespace fadewright::report {

struct PlotArea {
    double left, right, top, bottom;  // pixels
};

struct Range {
    double low, high;
};

// Size of the unit shown on each axis in the unit of its extent: 25.4 for mm shown as inches.
struct AxisUnits {
    double x = 1, y = 1;
};

struct Axes {
    double left, right, top, bottom;
    Range x, y;             // y widened to round steps
    double x_step, y_step;  // in the unit of the extents
    AxisUnits units;

    [[nodiscard]] std::pair<double, double> to_pixels(double along, double value) const;
};

// A step of 1, 2 or 5 times a power of ten that divides the extent into about `divisions`.
[[nodiscard]] double round_step(Range extent, int divisions);

[[nodiscard]] Axes make_axes(PlotArea frame, Range x, Range y, AxisUnits units = {});
void draw_axes(Canvas& canvas, const Axes& axes, std::string_view x_label, std::string_view y_label);
// A short line and its meaning, for the legend.
void draw_legend_key(Canvas& canvas, double x, double y, Rgb ink, std::string_view text);

}  // namespace fadewright::report
