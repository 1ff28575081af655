#include "fadewright/report/tune_report.h"

#include "fadewright/report/axes.h"
#include "fadewright/report/shown.h"

#include "edits_json.h"
#include "fade_brief.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include <algorithm>

namespace fadewright::report {
namespace {

using render::FadeWay;
using render::Tuned;

std::string line_of(const FadeWay& way) {
    const ShownUnits units = way.job.units;
    std::string out = fmt::format("{:<12}", way.name);
    if (way.figures) {
        const render::FadeFigures& f = *way.figures;
        out += fmt::format(
            " {:>6} {} wide, steepest {:.2f} x mean, bands {:.2f} x what shows, corner {:.2f}, chroma dip "
            "{:.0f}",
            units.figure(f.width), units.name<Millimetres>(), f.steepest_over_mean, f.band_times_threshold,
            f.corner, f.chroma_dip);
    }
    return out + fmt::format(", {} passes, film {}, dryness {:.2f}, points {:.2f}\n", way.cost.passes,
                             units.text(way.cost.most_film), way.cost.dry.figure, way.points);
}

nlohmann::ordered_json way_json(const FadeWay& way) {
    nlohmann::ordered_json json;
    if (way.figures) {
        json["width_mm"] = way.figures->width.value;
        json["steepest_over_mean"] = way.figures->steepest_over_mean;
        json["stripes_over_threshold"] = way.figures->band_times_threshold;
        json["corner"] = way.figures->corner;
        json["chroma_dip"] = way.figures->chroma_dip;
        json["words"] = render::fade_words(*way.figures, way.job.units);
    }
    json["passes"] = way.cost.passes;
    json["most_film_um"] = way.cost.most_film.value;
    json["dryness"] = way.cost.dry.figure;
    json["points"] = way.points;
    json["brief"] = fade_brief(way);
    return json;
}

constexpr Rgb kBefore{150, 150, 150}, kAfter{40, 60, 140}, kBand{190, 205, 235};

void draw_strip(Canvas& canvas, const FadeWay& way, const Axes& axes, double y, double height) {
    const double end = way.places.back().at_mm;
    std::size_t k = 0;
    for (double x = axes.left; x < axes.right; x += 1) {
        const double at = (x - axes.left) / (axes.right - axes.left) * end;
        while (k + 2 < way.places.size() && way.places[k + 1].at_mm < at) ++k;
        canvas.fill(x, y, 1, height, shown(way.places[k].lab));
    }
    canvas.frame(axes.left, y, axes.right - axes.left, height, kRule);
}

}  // namespace

std::string tune_text(const Tuned& t, const std::string& title) {
    const ShownUnits units = t.after.job.units;
    std::string out = title + "\n\n" + line_of(t.before) + line_of(t.after) + "\n";
    out += fmt::format("points against it, of what is searched for: {:.2f} before, {:.2f} after\n",
                       t.goal_before, t.goal_after);
    if (t.changes.empty()) out += "nothing better was found than the plan as it is\n";
    for (const render::Change& c : t.changes)
        out += fmt::format("{:<18} {:>12} -> {:<12} {}\n", c.what, c.before, c.after,
                           c.bought > 100     ? "without it the fade cannot be made"
                           : c.bought > 0.005 ? fmt::format("buys {:.2f} points", c.bought)
                                              : "makes no difference by itself");
    if (t.hand.tries > 0)
        out += fmt::format(
            "\nA hand 10 % off in speed, {} in distance and {} in place: nine in ten are {} wide ({} "
            "tries).\n",
            units.text(10_mm), units.text(5_mm), units.range(t.hand.narrowest, t.hand.widest), t.hand.tries);
    out += fmt::format("{} looks{}.\n", t.looks, t.stopped ? "; stopped early, this is the best so far" : "");
    return out;
}

std::string tune_json(const Tuned& t, const std::string& title) {
    nlohmann::ordered_json json;
    json["title"] = title;
    json["before"] = way_json(t.before);
    json["after"] = way_json(t.after);
    json["goal_before"] = t.goal_before;
    json["goal_after"] = t.goal_after;
    json["changes"] = nlohmann::ordered_json::array();
    for (const render::Change& c : t.changes)
        json["changes"].push_back(
            {{"what", c.what}, {"before", c.before}, {"after", c.after}, {"points", c.bought}});
    json["edits"] = edits_json(t.before.plan, t.after.plan);
    json["hand"] = {{"tries", t.hand.tries},
                    {"narrowest_mm", t.hand.narrowest.value},
                    {"widest_mm", t.hand.widest.value}};
    json["looks"] = t.looks;
    json["stopped_early"] = t.stopped;
    return json.dump(2) + "\n";
}

Picture tune_plot(const Tuned& t, const std::string& title) {
    const ShownUnits units = t.after.job.units;
    Canvas canvas(1400, 900);
    canvas.text_within(40, 46, 1320, title, {30, kInk, Align::left, Weight::bold});
    const Axes axes = make_axes({110, 1340, 330, 810}, {0, t.after.places.back().at_mm}, {0, 100},
                                {units.one<Millimetres>(), 1});
    canvas.text(40, 96, "before", {20});
    draw_strip(canvas, t.before, axes, 80, 80);
    canvas.text(40, 196, "after", {20});
    draw_strip(canvas, t.after, axes, 180, 80);
    for (std::size_t i = 0; i < t.hand.low_L.size(); ++i) {
        const auto low = axes.at(t.after.places[i].at_mm, std::max(0.0, t.hand.low_L[i]));
        const auto high = axes.at(t.after.places[i].at_mm, std::min(100.0, t.hand.high_L[i]));
        canvas.fill(low.first - 2, high.second, 4, std::max(1.0, low.second - high.second), kBand);
    }
    draw_axes(canvas, axes, fmt::format("{} along the fade", units.lengths()), "L*");
    const auto draw = [&](const FadeWay& way, Rgb ink, double px) {
        std::vector<std::pair<double, double>> points;
        for (const render::FadePlace& p : way.places)
            points.push_back(axes.at(p.at_mm, std::clamp(p.lab.L, 0.0, 100.0)));
        canvas.line(points, ink, px);
    };
    draw(t.before, kBefore, 2);
    draw(t.after, kAfter, 3);
    draw_key(canvas, 700, 300, kBefore, "before");
    draw_key(canvas, 820, 300, kAfter, "after");
    draw_key(canvas, 930, 300, kBand, "nine unsteady hands in ten");
    return canvas.picture();
}

}  // namespace fadewright::report
