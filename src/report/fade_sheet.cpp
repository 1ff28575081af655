#include "fadewright/base/contract.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/report/axes.h"
#include "fadewright/report/canvas.h"
#include "fadewright/report/fade_report.h"
#include "fadewright/report/format.h"
#include "fadewright/report/overlay.h"
#include "fadewright/report/phrases.h"
#include "fadewright/report/phrases_methods.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::report {
namespace {

using assess::FadeMethodComparison;
using assess::FadeMethodResult;

constexpr double kMargin = 40, kPlot = 420, kGap = 30, kFigures = 430;
constexpr double kAxis = 90;  // room for the plot's labels
constexpr double kStrip = 90, kSmallPlot = 280, kBetween = 130;
constexpr Rgb kLightness{40, 60, 140}, kChroma{190, 90, 20};

struct Row {
    double x, y, strip, height;
    double px_per_mm;
};

std::string distance_axis_label(DisplayUnits units) {
    return fmt::format("{} along the fade", units.length_unit_plural());
}

// The colours along the line, one bar per pixel.
void draw_strip(Canvas& canvas, const FadeMethodResult& method, const Row& row) {
    const double end = method.samples.back().position_mm;
    const int width = static_cast<int>(end * row.px_per_mm);
    std::size_t k = 0;
    for (int i = 0; i < width; ++i) {
        const double at = (i + 0.5) / row.px_per_mm;
        while (k + 2 < method.samples.size() && method.samples[k + 1].position_mm < at) ++k;
        canvas.fill(row.x + i, row.y, 1, kStrip, display_rgb(method.samples[k].lab));
    }
    canvas.frame(row.x, row.y, width, kStrip, kRule);
    if (!method.metrics) return;
    for (const Millimetres mark : {method.metrics->at_10, method.metrics->at_half, method.metrics->at_90}) {
        const double x = row.x + mark.value * row.px_per_mm;
        canvas.line({{x, row.y + kStrip}, {x, row.y + kStrip + 8}}, kInk, 2);
    }
}

void draw_plot(Canvas& canvas, const FadeMethodResult& method, const Row& row) {
    const Axes axes = make_axes({row.x, row.x + row.strip, row.y + kStrip + 24, row.y + row.height - 44},
                                {0, method.samples.back().position_mm}, {0, 100},
                                {method.job.units.unit_size<Millimetres>(), 1});
    draw_axes(canvas, axes, distance_axis_label(method.job.units), "L*, C*ab");
    std::vector<std::pair<double, double>> lightness, chroma;
    for (const assess::FadeSample& p : method.samples) {
        lightness.push_back(axes.to_pixels(p.position_mm, std::clamp(p.lab.L, 0.0, 100.0)));
        chroma.push_back(axes.to_pixels(p.position_mm, std::min(100.0, std::hypot(p.lab.a, p.lab.b))));
    }
    canvas.line(lightness, kLightness, 3);
    canvas.line(chroma, kChroma, 2);
}

// Rate of colour change: CIEDE2000 between neighbouring points, per millimetre.
void draw_slope(Canvas& canvas, const FadeMethodResult& method, const Axes& axes) {
    std::vector<std::pair<double, double>> slope;
    for (std::size_t i = 4; i < method.samples.size(); i += 4) {
        const assess::FadeSample &a = method.samples[i - 4], &b = method.samples[i];
        const double per_mm = colour::delta_e_2000(a.lab, b.lab) / (b.position_mm - a.position_mm);
        slope.push_back(axes.to_pixels((a.position_mm + b.position_mm) / 2, std::min(per_mm, axes.y.high)));
    }
    canvas.line(slope, kInk, 2);
}

void draw_films(Canvas& canvas, const FadeMethodResult& method, const FadeMethodComparison& methods,
                const Axes& axes) {
    const std::vector<plan::Point> points = methods.line.points(method.samples.size());
    for (std::size_t c = 0; c < method.job.coats.size(); ++c) {
        std::vector<std::pair<double, double>> film;
        for (std::size_t i = 0; i < points.size(); i += 4)
            film.push_back(axes.to_pixels(method.samples[i].position_mm,
                                          method.job.coats[c].film_um(points[i].x.value, points[i].y.value)));
        canvas.line(film, coat_colour(c), 2);
    }
}

double largest_film(const FadeMethodComparison& methods) {
    double maximum = 1;
    for (const FadeMethodResult& method : methods.results)
        for (const plan::Point& p : methods.line.points(41))
            for (const plan::ResolvedCoat& coat : method.job.coats)
                maximum = std::max(maximum, coat.film_um(p.x.value, p.y.value));
    return maximum;
}

double largest_slope(const FadeMethodComparison& methods) {
    double maximum = 0.1;
    for (const FadeMethodResult& method : methods.results)
        if (method.metrics) maximum = std::max(maximum, method.metrics->steepest_per_mm);
    return 1.1 * maximum;
}

// Two small plots side by side below the large one, on the same scales in every row.
void draw_small_plots(Canvas& canvas, const FadeMethodResult& method, const FadeMethodComparison& methods,
                      const Row& row, double max_film, double max_slope) {
    const DisplayUnits units = method.job.units;
    const double end = method.samples.back().position_mm, half = (row.strip - kBetween) / 2;
    const double top = row.y + row.height + 40, bottom = top + kSmallPlot - 100;
    const Axes slope = make_axes({row.x, row.x + half, top, bottom}, {0, end}, {0, max_slope},
                                 {units.unit_size<Millimetres>(), 1 / units.unit_size<Millimetres>()});
    draw_axes(canvas, slope, distance_axis_label(units),
              fmt::format("ΔE00 per {}", units.length_unit_name()));
    draw_slope(canvas, method, slope);
    const Axes film =
        make_axes({row.x + half + kBetween, row.x + row.strip, top, bottom}, {0, end}, {0, max_film},
                  {units.unit_size<Millimetres>(), units.unit_size<Micrometres>()});
    draw_axes(canvas, film, distance_axis_label(units),
              fmt::format("dry {}", units.unit_name<Micrometres>()));
    draw_films(canvas, method, methods, film);
    double y = top + 10;
    for (std::size_t c = 0; c < method.job.coats.size(); ++c, y += 28)
        draw_legend_key(canvas, row.x + row.strip + kGap, y, coat_colour(c), method.job.coats[c].name);
}

void draw_figures(Canvas& canvas, const FadeMethodResult& method, double x, double y) {
    const TextStyle style{21};
    const DisplayUnits units = method.job.units;
    double line = y;
    const auto add_line = [&](const std::string& text, Weight weight = Weight::normal) {
        canvas.text_to_fit(x, line, kFigures, text, {style.size_px, kInk, Align::left, weight});
        line += 30;
    };
    if (method.metrics) {
        const assess::FadeMetrics& f = *method.metrics;
        add_line(fmt::format("{} wide (10-90 %), halfway at {}", units.text(f.width), units.text(f.at_half)));
        add_line(fmt::format("steepest {} ΔE00/{}, {:.2f}× the average", units.slope(f.steepest_per_mm),
                             units.unit_name<Millimetres>(), f.steepest_over_mean));
        add_line(fmt::format("banding {:.1f}× threshold ({})", f.banding_over_threshold,
                             visibility_label(f.banding)));
        add_line(fmt::format("abruptness {:.2f}; chroma loss {:.0f}, hue shift {:.0f}°", f.abruptness,
                             f.chroma_loss, f.hue_shift.value));
    } else {
        add_line("both ends look the same");
    }
    const assess::FadeCost& cost = method.cost;
    add_line(fmt::format("graininess {:.1f} ΔL*, dry spray {:.2f}", cost.grain_L, cost.dry_spray.value));
    add_line(fmt::format("{} passes, {} trigger time", cost.passes, duration_text(cost.trigger_time)));
    add_line(fmt::format("film build up to {}, sag {:.0f} % of limit", units.text(cost.max_film),
                         100 * cost.sag.value));
}

}  // namespace

Picture fade_sheet(const FadeMethodComparison& methods, const std::string& title,
                   const std::vector<Picture>& pictures) {
    FW_EXPECTS(pictures.size() == methods.results.size());
    const double picture_w = pictures.front().width, picture_h = pictures.front().height;
    const double height = std::max(picture_h, 330.0), whole = height + kSmallPlot;
    const double max_film = largest_film(methods), max_slope = largest_slope(methods);
    const double end = methods.line.length_mm();
    const DisplayUnits units = methods.results.front().job.units;
    const double px_per_mm = std::clamp(700 / end, 0.5, 6.0);
    const double strip = std::max(kPlot, end * px_per_mm);
    Canvas canvas(static_cast<int>(2 * kMargin + picture_w + kGap + kAxis + strip + kGap + kFigures),
                  static_cast<int>(170 + (whole + 96) * static_cast<double>(methods.results.size())));
    canvas.text_to_fit(kMargin, 46, canvas.width() - 2 * kMargin, title,
                       {32, kInk, Align::left, Weight::bold});
    canvas.text_to_fit(kMargin, 92, canvas.width() - 2 * kMargin, "Recommended: " + advice_text(methods),
                       {23});
    canvas.text(kMargin, 128,
                fmt::format("strips: {:.1f} px/{}; ticks at 10, 50, 90 %",
                            px_per_mm * units.unit_size<Millimetres>(), units.unit_name<Millimetres>()),
                {19, kFaintInk});
    draw_legend_key(canvas, canvas.width() - kMargin - 260, 128, kLightness, "lightness");
    draw_legend_key(canvas, canvas.width() - kMargin - 120, 128, kChroma, "chroma");
    for (std::size_t i = 0; i < methods.results.size(); ++i) {
        const FadeMethodResult& method = methods.results[i];
        const double y = 160 + (whole + 96) * static_cast<double>(i);
        canvas.line({{kMargin, y}, {canvas.width() - kMargin, y}}, kRule, 1);
        const std::string mark = i == methods.best        ? "  (recommended)"
                                 : i == methods.runner_up ? "  (runner-up)"
                                                          : "";
        canvas.text_to_fit(kMargin, y + 30, canvas.width() - 2 * kMargin, method_name(method) + mark,
                           {26, kInk, Align::left, Weight::bold});
        canvas.draw_picture(kMargin, y + 60, pictures[i]);
        const Row row{kMargin + picture_w + kGap + kAxis, y + 60, strip, height, px_per_mm};
        draw_strip(canvas, method, row);
        draw_plot(canvas, method, row);
        draw_small_plots(canvas, method, methods, row, max_film, max_slope);
        draw_figures(canvas, method, row.x + strip + kGap, y + 76);
    }
    return canvas.picture();
}

}  // namespace fadewright::report
