#include "fadewright/base/contract.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/report/axes.h"
#include "fadewright/report/canvas.h"
#include "fadewright/report/fade_report.h"
#include "fadewright/report/overlay.h"
#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::report {
namespace {

using render::FadeWay;
using render::FadeWays;

constexpr double kMargin = 40, kPlot = 420, kGap = 30, kFigures = 430;
constexpr double kAxis = 90;  // for the plot's own words
constexpr double kStrip = 90, kSmallPlot = 280, kBetween = 130;
constexpr Rgb kLightness{40, 60, 140}, kChroma{190, 90, 20};

struct Row {
    double x, y, strip, height;
    double px_per_mm;
};

std::string along_words(ShownUnits units) { return fmt::format("{} along the fade", units.lengths()); }

// The colours of the line, each place as a thin upright bar.
void draw_strip(Canvas& canvas, const FadeWay& way, const Row& row) {
    const double end = way.places.back().at_mm;
    const int width = static_cast<int>(end * row.px_per_mm);
    std::size_t k = 0;
    for (int i = 0; i < width; ++i) {
        const double at = (i + 0.5) / row.px_per_mm;
        while (k + 2 < way.places.size() && way.places[k + 1].at_mm < at) ++k;
        canvas.fill(row.x + i, row.y, 1, kStrip, shown(way.places[k].lab));
    }
    canvas.frame(row.x, row.y, width, kStrip, kRule);
    if (!way.figures) return;
    for (const Millimetres mark : {way.figures->at_10, way.figures->at_half, way.figures->at_90}) {
        const double x = row.x + mark.value * row.px_per_mm;
        canvas.line({{x, row.y + kStrip}, {x, row.y + kStrip + 8}}, kInk, 2);
    }
}

void draw_plot(Canvas& canvas, const FadeWay& way, const Row& row) {
    const Axes axes =
        make_axes({row.x, row.x + row.strip, row.y + kStrip + 24, row.y + row.height - 44},
                  {0, way.places.back().at_mm}, {0, 100}, {way.job.units.one<Millimetres>(), 1});
    draw_axes(canvas, axes, along_words(way.job.units), "L*, C*ab");
    std::vector<std::pair<double, double>> lightness, chroma;
    for (const render::FadePlace& p : way.places) {
        lightness.push_back(axes.at(p.at_mm, std::clamp(p.lab.L, 0.0, 100.0)));
        chroma.push_back(axes.at(p.at_mm, std::min(100.0, std::hypot(p.lab.a, p.lab.b))));
    }
    canvas.line(lightness, kLightness, 3);
    canvas.line(chroma, kChroma, 2);
}

// How fast the colour changes: CIEDE2000 from place to place, to the millimetre.
void draw_slope(Canvas& canvas, const FadeWay& way, const Axes& axes) {
    std::vector<std::pair<double, double>> slope;
    for (std::size_t i = 4; i < way.places.size(); i += 4) {
        const render::FadePlace &a = way.places[i - 4], &b = way.places[i];
        const double per_mm = colour::delta_e_2000(a.lab, b.lab) / (b.at_mm - a.at_mm);
        slope.push_back(axes.at((a.at_mm + b.at_mm) / 2, std::min(per_mm, axes.y.high)));
    }
    canvas.line(slope, kInk, 2);
}

void draw_films(Canvas& canvas, const FadeWay& way, const FadeWays& ways, const Axes& axes) {
    const std::vector<plan::Point> places = ways.line.places(way.places.size());
    for (std::size_t c = 0; c < way.job.coats.size(); ++c) {
        std::vector<std::pair<double, double>> film;
        for (std::size_t i = 0; i < places.size(); i += 4)
            film.push_back(
                axes.at(way.places[i].at_mm, way.job.coats[c].film_um(places[i].x.value, places[i].y.value)));
        canvas.line(film, coat_colour(c), 2);
    }
}

double greatest_film(const FadeWays& ways) {
    double greatest = 1;
    for (const FadeWay& way : ways.ways)
        for (const plan::Point& p : ways.line.places(41))
            for (const plan::ReadyCoat& coat : way.job.coats)
                greatest = std::max(greatest, coat.film_um(p.x.value, p.y.value));
    return greatest;
}

double greatest_slope(const FadeWays& ways) {
    double greatest = 0.1;
    for (const FadeWay& way : ways.ways)
        if (way.figures) greatest = std::max(greatest, way.figures->steepest_per_mm);
    return 1.1 * greatest;
}

// Two small plots side by side below the large one, on the same scales in every row.
void draw_small_plots(Canvas& canvas, const FadeWay& way, const FadeWays& ways, const Row& row,
                      double most_film, double most_slope) {
    const ShownUnits units = way.job.units;
    const double end = way.places.back().at_mm, half = (row.strip - kBetween) / 2;
    const double top = row.y + row.height + 40, bottom = top + kSmallPlot - 100;
    const Axes slope = make_axes({row.x, row.x + half, top, bottom}, {0, end}, {0, most_slope},
                                 {units.one<Millimetres>(), 1 / units.one<Millimetres>()});
    draw_axes(canvas, slope, along_words(units), fmt::format("dE00 per {}", units.length()));
    draw_slope(canvas, way, slope);
    const Axes film = make_axes({row.x + half + kBetween, row.x + row.strip, top, bottom}, {0, end},
                                {0, most_film}, {units.one<Millimetres>(), units.one<Micrometres>()});
    draw_axes(canvas, film, along_words(units), fmt::format("dry {}", units.name<Micrometres>()));
    draw_films(canvas, way, ways, film);
    double y = top + 10;
    for (std::size_t c = 0; c < way.job.coats.size(); ++c, y += 28)
        draw_key(canvas, row.x + row.strip + kGap, y, coat_colour(c), way.job.coats[c].name);
}

void draw_figures(Canvas& canvas, const FadeWay& way, double x, double y) {
    const TextStyle style{21};
    const ShownUnits units = way.job.units;
    double line = y;
    const auto say = [&](const std::string& words, Weight weight = Weight::normal) {
        canvas.text_within(x, line, kFigures, words, {style.size_px, kInk, Align::left, weight});
        line += 30;
    };
    if (way.figures) {
        const render::FadeFigures& f = *way.figures;
        say(fmt::format("{} wide, halfway at {}", units.text(f.width), units.text(f.at_half)));
        say(fmt::format("steepest {} dE/{}, {:.2f} times the mean", units.slope(f.steepest_per_mm),
                        units.name<Millimetres>(), f.steepest_over_mean));
        say(fmt::format("bands {} ({:.2f} times what shows)", colour::visibility_words(f.bands),
                        f.band_times_threshold));
        say(fmt::format("corner {:.2f}; chroma dip {:.0f}, hue {:.0f} deg", f.corner, f.chroma_dip,
                        f.hue_swing.value));
    } else {
        say("both ends look the same");
    }
    say(fmt::format("grain {:.1f} L*, dryness {:.2f}", way.cost.grain_L, way.cost.dry.figure));
    say(fmt::format("{} passes, {:.0f} s at the gun", way.cost.passes, way.cost.gun_time.value));
    say(fmt::format("film up to {}, sag {:.2f} of its limit", units.text(way.cost.most_film),
                    way.cost.sag.figure));
}

}  // namespace

Picture fade_sheet(const FadeWays& ways, const std::string& title, const std::vector<Picture>& pictures) {
    FW_EXPECTS(pictures.size() == ways.ways.size());
    const double picture_w = pictures.front().width, picture_h = pictures.front().height;
    const double height = std::max(picture_h, 330.0), whole = height + kSmallPlot;
    const double most_film = greatest_film(ways), most_slope = greatest_slope(ways);
    const double end = ways.line.length_mm();
    const ShownUnits units = ways.ways.front().job.units;
    const double px_per_mm = std::clamp(700 / end, 0.5, 6.0);
    const double strip = std::max(kPlot, end * px_per_mm);
    Canvas canvas(static_cast<int>(2 * kMargin + picture_w + kGap + kAxis + strip + kGap + kFigures),
                  static_cast<int>(170 + (whole + 96) * static_cast<double>(ways.ways.size())));
    canvas.text_within(kMargin, 46, canvas.width() - 2 * kMargin, title,
                       {32, kInk, Align::left, Weight::bold});
    canvas.text_within(kMargin, 92, canvas.width() - 2 * kMargin, "Suggested: " + ways.advice, {23});
    canvas.text(kMargin, 128,
                fmt::format("strips: {:.1f} pixels to the {}, marks at 10, 50 and 90 % of the fade",
                            px_per_mm * units.one<Millimetres>(), units.length_in_full()),
                {19, kFaintInk});
    draw_key(canvas, canvas.width() - kMargin - 260, 128, kLightness, "lightness");
    draw_key(canvas, canvas.width() - kMargin - 120, 128, kChroma, "chroma");
    for (std::size_t i = 0; i < ways.ways.size(); ++i) {
        const FadeWay& way = ways.ways[i];
        const double y = 160 + (whole + 96) * static_cast<double>(i);
        canvas.line({{kMargin, y}, {canvas.width() - kMargin, y}}, kRule, 1);
        const std::string mark = i == ways.best ? "  (suggested)" : i == ways.runner_up ? "  (next)" : "";
        canvas.text_within(kMargin, y + 30, canvas.width() - 2 * kMargin, way.name + mark,
                           {26, kInk, Align::left, Weight::bold});
        canvas.place(kMargin, y + 60, pictures[i]);
        const Row row{kMargin + picture_w + kGap + kAxis, y + 60, strip, height, px_per_mm};
        draw_strip(canvas, way, row);
        draw_plot(canvas, way, row);
        draw_small_plots(canvas, way, ways, row, most_film, most_slope);
        draw_figures(canvas, way, row.x + strip + kGap, y + 76);
    }
    return canvas.picture();
}

}  // namespace fadewright::report
