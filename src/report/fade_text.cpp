#include "fadewright/report/fade_report.h"
#include "fadewright/spray/drying.h"

#include "edits_json.h"
#include "fade_summary.h"
#include "fadewright/report/format.h"

#include <fmt/core.h>

#include <array>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using render::FadeMethodComparison;
using render::FadeMethodResult;

constexpr std::size_t kSamplesPerColour = 10;  // of the JSON

std::string method_row(const FadeMethodResult& method, const std::string& mark) {
    const DisplayUnits units = method.job.units;
    const render::FadeCost& c = method.cost;
    std::string figures =
        fmt::format("{:>7} {:>8} {:>8} {:>10} {:>10} {:>7} {:>6}", "-", "-", "-", "-", "-", "-", "-");
    if (method.metrics) {
        const render::FadeMetrics& f = *method.metrics;
        figures = fmt::format("{:>7} {:>8} {:>8.1f} {:>10.2f} {:>10.2f} {:>7.1f} {:>6.0f}",
                              units.number(f.width), units.slope(f.steepest_per_mm), f.largest_step,
                              f.banding_over_threshold, f.abruptness, f.chroma_loss, f.hue_shift.value);
    }
    return fmt::format("{:<2}{:<40} {} {:>10.1f} {:>6.2f} {:>7.0f} {:>6} {:>7} {:>7}\n", mark, method.name,
                       figures, c.grain_L, c.dry_spray.value, 100 * c.sag.value, c.passes,
                       clock_text(static_cast<int>(c.trigger_time.value)), units.number(c.max_film));
}

std::string head_row(const std::array<std::string, 13>& head) {
    constexpr std::array kWidths{7, 8, 8, 10, 10, 7, 6, 10, 6, 7, 6, 7, 7};
    std::string row(42, ' ');
    for (std::size_t i = 0; i < head.size(); ++i) row += fmt::format(" {:>{}}", head[i], kWidths[i]);
    return row + "\n";
}

nlohmann::ordered_json figures_json(const FadeMethodResult& method, const FadeMethodComparison& methods) {
    nlohmann::ordered_json json;
    json["name"] = method.name;
    json["score"] = method.penalty;
    if (method.metrics) {
        const render::FadeMetrics& f = *method.metrics;
        json["width_mm"] = f.width.value;
        json["width_degrees"] = f.angular_width.value;
        json["visual_midpoint_mm"] = f.at_half.value;
        json["steepest_dE00_per_mm"] = f.steepest_per_mm;
        json["steepest_dE00_per_degree"] = f.steepest_per_deg;
        json["steepest_over_mean"] = f.steepest_over_mean;
        json["largest_step_dE00"] = f.largest_step;
        json["banding_over_threshold"] = f.banding_over_threshold;
        json["abruptness"] = f.abruptness;
        json["chroma_loss"] = f.chroma_loss;
        json["hue_shift_deg"] = f.hue_shift.value;
        json["lightness_reversal_L"] = f.reversal;
        json["details"] = render::describe_fade(f, method.job.units);
        if (const auto text = render::describe_midpoint_offset(method, methods.line, method.job.units))
            json["details"].push_back(*text);
    }
    json["graininess_L"] = method.cost.grain_L;
    json["dry_spray_index"] = method.cost.dry_spray.value;
    json["sag_over_limit"] = method.cost.sag.value;
    json["passes"] = method.cost.passes;
    json["trigger_seconds"] = method.cost.trigger_time.value;
    json["max_film_um"] = method.cost.max_film.value;
    for (std::size_t i = 0; i < method.samples.size(); i += kSamplesPerColour) {
        const render::FadeSample& sample = method.samples[i];
        json["colours"].push_back(
            {{"at_mm", sample.position_mm}, {"Lab", {sample.lab.L, sample.lab.a, sample.lab.b}}});
    }
    for (const render::PaintUse& use : method.cost.paint) json["sprayed_mL"][use.mix] = use.sprayed.value;
    json["summary"] = fade_summary(method);
    json["edits"] = edits_json(methods.results.front().plan, method.plan);
    return json;
}

// The mid colour extended against the mid colour thinned as much: same colour, other film.
std::string describe_extension(const FadeMethodComparison& methods) {
    const auto named = [&](const std::string& part) -> const FadeMethodResult* {
        for (const FadeMethodResult& method : methods.results)
            if (method.name.starts_with(part)) return &method;
        return nullptr;
    };
    const FadeMethodResult* extended = named("one mid colour, extended");
    const FadeMethodResult* reduced = named("one mid colour, thinned");
    if (!extended || !reduced) return "";
    const auto mid_colour_coat = [](const FadeMethodResult& method) -> const plan::ResolvedCoat* {
        for (const plan::ResolvedCoat& coat : method.job.coats)
            if (coat.mix_name.find("mid-colour") != std::string::npos) return &coat;
        return nullptr;
    };
    const plan::ResolvedCoat *a = mid_colour_coat(*extended), *b = mid_colour_coat(*reduced);
    if (!a || !b) return "";
    const DisplayUnits units = methods.results.front().job.units;
    const auto binder = [units](const plan::ResolvedCoat& coat) {
        return units.text(GramsPerLitre{coat.mix.binder_g_per_litre});
    };
    return fmt::format(
        "The mid colour extended 2:1 with clear base keeps {} binder ready to spray; thinned as much with "
        "reducer instead it keeps {}. Solids {:.0f} % against {:.0f} %, pigment to binder {:.2f} against "
        "{:.2f}.\n",
        binder(*a), binder(*b), 100 * a->mix.solids.value, 100 * b->mix.solids.value, a->mix.pigment_binder,
        b->mix.pigment_binder);
}

}  // namespace

std::string fade_text(const FadeMethodComparison& methods, const std::string& title) {
    const DisplayUnits units = methods.results.front().job.units;
    const auto point_text = [units](const plan::Point& p) {
        return units.number(p.x) + "," + units.number(p.y);
    };
    std::string out = fmt::format(
        "{}\nalong {} from {} to {} {}\n\n", title, units.text(Millimetres{methods.line.length_mm()}),
        point_text(methods.line.from), point_text(methods.line.to), units.unit_name<Millimetres>());
    out += head_row({"width", "slope", "largest", "banding", "abruptness", "chroma", "hue", "graininess",
                     "dry", "sag, %", "passes", "trigger", "film"});
    const std::string mm(units.unit_name<Millimetres>()), um(units.unit_name<Micrometres>());
    out += head_row({mm, "ΔE00/" + mm, "step", "×threshold", "", "loss", "shift", "ΔL*", "spray", "limit", "",
                     "min:s", um});
    for (std::size_t i = 0; i < methods.results.size(); ++i)
        out += method_row(methods.results[i], i == methods.best        ? "> "
                                              : i == methods.runner_up ? "- "
                                                                       : "  ");
    for (const render::InfeasibleMethod& not_possible : methods.infeasible)
        out += fmt::format("  {:<40} not possible here: {}\n", not_possible.name, not_possible.reason);
    out += "\nRecommended: " + methods.advice + ".\n";
    const FadeMethodResult& own = methods.results.front();
    if (own.metrics) {
        out += fmt::format("\n{}:\n", own.name);
        for (const std::string& text : render::describe_fade(*own.metrics, units)) out += "  " + text + "\n";
        if (const auto text = render::describe_midpoint_offset(own, methods.line, units))
            out += "  " + *text + "\n";
    }
    for (const render::Defect* defect : {&own.cost.sag, &own.cost.dry_spray, &own.cost.striping})
        if (defect->severity != render::Severity::ok) out += "  " + defect->text + "\n";
    if (const std::string text = describe_extension(methods); !text.empty()) out += "\n" + text;
    out += fmt::format("\nPaint used by your plan, {}:", units.unit_name<Millilitres>());
    for (const render::PaintUse& use : own.cost.paint)
        out += fmt::format("  {} {}", use.mix, units.number(use.sprayed));
    out += "\n";
    return out;
}

std::string fade_json(const FadeMethodComparison& methods, const std::string& title) {
    nlohmann::ordered_json json;
    json["title"] = title;
    json["from_mm"] = {methods.line.from.x.value, methods.line.from.y.value};
    json["to_mm"] = {methods.line.to.x.value, methods.line.to.y.value};
    if (methods.line.target_width) json["target_width_mm"] = methods.line.target_width->value;
    if (methods.line.midline) json["planned_midline_mm"] = methods.line.midline->value;
    for (const FadeMethodResult& method : methods.results)
        json["methods"].push_back(figures_json(method, methods));
    for (const render::InfeasibleMethod& not_possible : methods.infeasible)
        json["not_possible"].push_back({{"name", not_possible.name}, {"reason", not_possible.reason}});
    json["recommended"] = methods.results[methods.best].name;
    json["runner_up"] = methods.results[methods.runner_up].name;
    json["advice"] = methods.advice;
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
