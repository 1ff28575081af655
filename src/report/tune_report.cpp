#include "fadewright/report/tune_report.h"

#include "fadewright/report/axes.h"
#include "fadewright/report/format.h"

#include "fadewright/report/fade_report.h"
#include "fadewright/report/phrases_fade.h"
#include "fadewright/report/phrases_methods.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include <algorithm>

namespace fadewright::report {
namespace {

using assess::FadeMethodResult;
using assess::TuneResult;

std::string method_line(const FadeMethodResult& method) {
    const DisplayUnits units = method.job.units;
    std::string out = fmt::format("{:<12}", method_name(method));
    if (method.metrics) {
        const assess::FadeMetrics& f = *method.metrics;
        out += fmt::format(
            " {:>6} {} wide, steepest part {:.2f}× the average, banding {:.2f}× threshold, abruptness {:.2f}, "
            "chroma loss {:.0f}",
            units.number(f.width), units.unit_name<Millimetres>(), f.steepest_over_mean,
            f.banding_over_threshold, f.abruptness, f.chroma_loss);
    }
    return out + fmt::format(", {} passes, film build {}, dry spray {:.2f}, score {:.2f}\n",
                             method.cost.passes, units.text(method.cost.max_film),
                             method.cost.dry_spray.value, method.penalty);
}

nlohmann::ordered_json method_json(const FadeMethodResult& method) {
    nlohmann::ordered_json json;
    if (method.metrics) {
        json["width_mm"] = method.metrics->width.value;
        json["steepest_over_mean"] = method.metrics->steepest_over_mean;
        json[kBandingMember] = method.metrics->banding_over_threshold;
        json["abruptness"] = method.metrics->abruptness;
        json["chroma_loss"] = method.metrics->chroma_loss;
        json["details"] = texts_of(describe_fade(*method.metrics, method.job.units));
    }
    json["passes"] = method.cost.passes;
    json["max_film_um"] = method.cost.max_film.value;
    json["dry_spray_index"] = method.cost.dry_spray.value;
    json["score"] = method.penalty;
    json["summary"] = fade_summary(method);
    return json;
}

constexpr Rgb kBefore{150, 150, 150}, kAfter{40, 60, 140}, kVariation{190, 205, 235};

void draw_strip(Canvas& canvas, const FadeMethodResult& method, const Axes& axes, double y, double height) {
    const double end = method.samples.back().position_mm;
    std::size_t k = 0;
    for (double x = axes.left; x < axes.right; x += 1) {
        const double at = (x - axes.left) / (axes.right - axes.left) * end;
        while (k + 2 < method.samples.size() && method.samples[k + 1].position_mm < at) ++k;
        canvas.fill(x, y, 1, height, display_rgb(method.samples[k].lab));
    }
    canvas.frame(axes.left, y, axes.right - axes.left, height, kRule);
}

}  // namespace

std::string tune_text(const TuneResult& t, const std::string& title) {
    const DisplayUnits units = t.after.job.units;
    std::string out = title + "\n\n" + method_line(t.before) + method_line(t.after) + "\n";
    out += fmt::format("score (lower is better): {:.2f} before, {:.2f} after\n", t.penalty_before,
                       t.penalty_after);
    if (t.changes.empty()) out += "No better settings found.\n";
    for (const assess::TuneChange& c : t.changes)
        out += fmt::format("{:<18} {:>12} -> {:<12} {}\n", setting_label(c.vary),
                           setting_text(c.vary, t.before.plan), setting_text(c.vary, t.after.plan),
                           c.gain > 100     ? "required"
                           : c.gain > 0.005 ? fmt::format("improves the score by {:.2f}", c.gain)
                                            : "no effect alone");
    if (t.variability.runs > 0)
        out += fmt::format(
            "\n90 % of simulated passes are {} wide (hand off by 10 % in speed, {} in distance and {} in "
            "position; {} trials).\n",
            units.range(t.variability.min_width, t.variability.max_width), units.text(10_mm),
            units.text(5_mm), t.variability.runs);
    out += fmt::format("{} trials{}.\n", t.trials, t.stopped ? "; stopped early, best found so far" : "");
    return out;
}

std::string tune_json(const TuneResult& t, const std::string& title) {
    nlohmann::ordered_json json;
    json["title"] = title;
    json["before"] = method_json(t.before);
    json["after"] = method_json(t.after);
    json["score_before"] = t.penalty_before;
    json["score_after"] = t.penalty_after;
    json["changes"] = nlohmann::ordered_json::array();
    for (const assess::TuneChange& c : t.changes)
        json["changes"].push_back({{"setting", setting_label(c.vary)},
                                   {"before", setting_text(c.vary, t.before.plan)},
                                   {"after", setting_text(c.vary, t.after.plan)},
                                   {"improvement", c.gain}});
    json["edits"] = plan_edits_json(t.before.plan, t.after.plan);
    json["hand_variation"] = {{"trials", t.variability.runs},
                              {"min_width_mm", t.variability.min_width.value},
                              {"max_width_mm", t.variability.max_width.value}};
    json["trials"] = t.trials;
    json["stopped_early"] = t.stopped;
    return json.dump(2) + "\n";
}

Picture tune_plot(const TuneResult& t, const std::string& title) {
    const DisplayUnits units = t.after.job.units;
    Canvas canvas(1400, 900);
    canvas.text_to_fit(40, 46, 1320, title, {30, kInk, Align::left, Weight::bold});
    const Axes axes = make_axes({110, 1340, 330, 810}, {0, t.after.samples.back().position_mm}, {0, 100},
                                {units.unit_size<Millimetres>(), 1});
    canvas.text(40, 96, "before", {20});
    draw_strip(canvas, t.before, axes, 80, 80);
    canvas.text(40, 196, "after", {20});
    draw_strip(canvas, t.after, axes, 180, 80);
    for (std::size_t i = 0; i < t.variability.low_L.size(); ++i) {
        const auto low =
            axes.to_pixels(t.after.samples[i].position_mm, std::max(0.0, t.variability.low_L[i]));
        const auto high =
            axes.to_pixels(t.after.samples[i].position_mm, std::min(100.0, t.variability.high_L[i]));
        canvas.fill(low.first - 2, high.second, 4, std::max(1.0, low.second - high.second), kVariation);
    }
    draw_axes(canvas, axes, fmt::format("{} along the fade", units.length_unit_plural()), "L*");
    const auto draw = [&](const FadeMethodResult& method, Rgb ink, double px) {
        std::vector<std::pair<double, double>> points;
        for (const assess::FadeSample& p : method.samples)
            points.push_back(axes.to_pixels(p.position_mm, std::clamp(p.lab.L, 0.0, 100.0)));
        canvas.line(points, ink, px);
    };
    draw(t.before, kBefore, 2);
    draw(t.after, kAfter, 3);
    draw_legend_key(canvas, 700, 300, kBefore, "before");
    draw_legend_key(canvas, 820, 300, kAfter, "after");
    draw_legend_key(canvas, 930, 300, kVariation, "90 % range, hand ±10 %");
    return canvas.picture();
}

}  // namespace fadewright::report
