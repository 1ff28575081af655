#include "fadewright/report/axes.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::report {

std::pair<double, double> Axes::to_pixels(double along, double value) const {
    return {left + (along - x.low) / (x.high - x.low) * (right - left),
            bottom - (value - y.low) / (y.high - y.low) * (bottom - top)};
}

double round_step(Range extent, int divisions) {
    const double raw = (extent.high - extent.low) / divisions;
    const double power = std::pow(10.0, std::floor(std::log10(raw)));
    for (const double times : {1.0, 2.0, 5.0})
        if (times * power >= raw) return times * power;
    return 10 * power;
}

namespace {

double step_in_unit(Range extent, int divisions, double unit) {
    return unit * round_step({extent.low / unit, extent.high / unit}, divisions);
}

}  // namespace

Axes make_axes(PlotArea frame, Range x, Range y, AxisUnits units) {
    Axes axes{frame.left,
              frame.right,
              frame.top,
              frame.bottom,
              x,
              y,
              step_in_unit(x, 9, units.x),
              step_in_unit(y, 5, units.y),
              units};
    axes.y.low = std::floor(y.low / axes.y_step) * axes.y_step;
    axes.y.high = std::ceil(y.high / axes.y_step) * axes.y_step;
    return axes;
}

void draw_axes(Canvas& canvas, const Axes& axes, std::string_view x_label, std::string_view y_label) {
    const TextStyle numbers{18, kInk, Align::right};
    const int first_y = static_cast<int>(std::lround(axes.y.low / axes.y_step));
    const int last_y = static_cast<int>(std::lround(axes.y.high / axes.y_step));
    for (int i = first_y; i <= last_y; ++i) {
        const double y = axes.to_pixels(axes.x.low, i * axes.y_step).second;
        canvas.line({{axes.left, y}, {axes.right, y}}, i == 0 ? kFaintInk : kRule, 1);
        canvas.text(axes.left - 12, y, fmt::format("{:g}", i * axes.y_step / axes.units.y), numbers);
    }
    const int last_x = static_cast<int>(std::floor(axes.x.high / axes.x_step + 1e-9));
    for (int i = static_cast<int>(std::ceil(axes.x.low / axes.x_step)); i <= last_x; ++i) {
        const double x = axes.to_pixels(i * axes.x_step, axes.y.low).first;
        canvas.line({{x, axes.top}, {x, axes.bottom + 6}}, kRule, 1);
        canvas.text(x, axes.bottom + 22, fmt::format("{:g}", i * axes.x_step / axes.units.x),
                    {18, kInk, Align::centre});
    }
    canvas.frame(axes.left, axes.top, axes.right - axes.left, axes.bottom - axes.top, kFaintInk);
    canvas.text((axes.left + axes.right) / 2, axes.bottom + 54, x_label, {20, kInk, Align::centre});
    canvas.vertical_text(axes.left - 90, (axes.top + axes.bottom) / 2, y_label, {20, kInk, Align::centre});
}

void draw_legend_key(Canvas& canvas, double x, double y, Rgb ink, std::string_view text) {
    canvas.line({{x, y}, {x + 34, y}}, ink, 4);
    canvas.text(x + 46, y, text, {18});
}

}  // namespace fadewright::report
