#include "fadewright/report/fade_report.h"
#include "fadewright/spray/drying.h"

#include "edits_json.h"
#include "fade_summary.h"

#include <fmt/core.h>

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
        fmt::format("{:>7} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6}", "-", "-", "-", "-", "-", "-", "-");
    if (method.metrics) {
        const render::FadeMetrics& f = *method.metrics;
        figures = fmt::format("{:>7} {:>6} {:>6.1f} {:>6.2f} {:>6.2f} {:>6.1f} {:>6.0f}",
                              units.number(f.width), units.slope(f.steepest_per_mm), f.largest_step,
                              f.banding_over_threshold, f.abruptness, f.chroma_loss, f.hue_shift.value);
    }
    return fmt::format("{:<2}{:<34} {} {:>6.1f} {:>6.2f} {:>5.2f} {:>6} {:>6} {:>6}\n", mark, method.name,
                       figures, c.grain_L, c.dry_spray.value, c.sag.value, c.passes,
                       trigger_time_text(c.trigger_time), units.number(c.max_film));
}

nlohmann::ordered_json figures_json(const FadeMethodResult& method, const FadeMethodComparison& methods) {
    nlohmann::ordered_json json;
    json["name"] = method.name;
    json["points"] = method.penalty;
    if (method.metrics) {
        const render::FadeMetrics& f = *method.metrics;
        json["width_mm"] = f.width.value;
        json["width_degrees"] = f.angular_width.value;
        json["halfway_mm"] = f.at_half.value;
        json["steepest_dE00_per_mm"] = f.steepest_per_mm;
        json["steepest_dE00_per_degree"] = f.steepest_per_deg;
        json["steepest_over_mean"] = f.steepest_over_mean;
        json["largest_step_dE00"] = f.largest_step;
        json["stripes_over_threshold"] = f.banding_over_threshold;
        json["corner"] = f.abruptness;
        json["chroma_dip"] = f.chroma_loss;
        json["hue_swing_degrees"] = f.hue_shift.value;
        json["back_step_L"] = f.reversal;
        json["words"] = render::describe_fade(f, method.job.units);
        if (const auto text = render::describe_midpoint_offset(method, methods.line, method.job.units))
            json["words"].push_back(*text);
    }
    json["grain_L"] = method.cost.grain_L;
    json["dryness"] = method.cost.dry_spray.value;
    json["sag_over_limit"] = method.cost.sag.value;
    json["passes"] = method.cost.passes;
    json["gun_seconds"] = method.cost.trigger_time.value;
    json["most_film_um"] = method.cost.max_film.value;
    for (std::size_t i = 0; i < method.samples.size(); i += kSamplesPerColour) {
        const render::FadeSample& point_text = method.samples[i];
        json["colours"].push_back({{"at_mm", point_text.position_mm},
                                   {"Lab", {point_text.lab.L, point_text.lab.a, point_text.lab.b}}});
    }
    for (const render::PaintUse& use : method.cost.paint) json["sprayed_mL"][use.mix] = use.sprayed.value;
    json["brief"] = fade_summary(method);
    json["edits"] = edits_json(methods.results.front().plan, method.plan);
    return json;
}

// What extending does to a middle beside reducing it as much: same colour, other film.
std::string describe_extension(const FadeMethodComparison& methods) {
    const auto named = [&](const std::string& part) -> const FadeMethodResult* {
        for (const FadeMethodResult& method : methods.results)
            if (method.name.starts_with(part)) return &method;
        return nullptr;
    };
    const FadeMethodResult* extended = named("one middle, extended");
    const FadeMethodResult* reduced = named("one middle, reduced");
    if (!extended || !reduced) return "";
    const auto mid_colour_coat = [](const FadeMethodResult& method) -> const plan::ResolvedCoat* {
        for (const plan::ResolvedCoat& coat : method.job.coats)
            if (coat.mix_name.find("middle") != std::string::npos) return &coat;
        return nullptr;
    };
    const plan::ResolvedCoat *a = mid_colour_coat(*extended), *b = mid_colour_coat(*reduced);
    if (!a || !b) return "";
    const DisplayUnits units = methods.results.front().job.units;
    const auto binder = [units](const plan::ResolvedCoat& coat) {
        return units.number(GramsPerLitre{coat.mix.binder_g_per_litre});
    };
    return fmt::format(
        "The middle extended 2:1 with clear base keeps {} {} of binder in a {} as sprayed; reduced as "
        "much instead it keeps {}. Solids {:.0f} % against {:.0f} %, pigment to binder {:.2f} against "
        "{:.2f}.\n",
        binder(*a), units.weight_unit_name(), units.volume_unit_name(), binder(*b), 100 * a->mix.solids.value,
        100 * b->mix.solids.value, a->mix.pigment_binder, b->mix.pigment_binder);
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
    out +=
        fmt::format("{:<36} {:>7} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>5} {:>6} {:>6} {:>6}\n",
                    "", "width", "steep", "step", "bands", "corner", "chroma", "hue", "grain", "dry", "sag",
                    "passes", "at gun", "film");
    out += fmt::format(
        "{:<36} {:>7} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>5} {:>6} {:>6} {:>6}\n", "",
        units.unit_name<Millimetres>(), fmt::format("dE/{}", units.unit_name<Millimetres>()), "dE", "x seen",
        "", "dip", "swing", "L*", "", "/limit", "", "min:s", units.unit_name<Micrometres>());
    for (std::size_t i = 0; i < methods.results.size(); ++i)
        out += method_row(methods.results[i], i == methods.best        ? "> "
                                              : i == methods.runner_up ? "- "
                                                                       : "  ");
    for (const render::InfeasibleMethod& not_possible : methods.infeasible)
        out += fmt::format("  {:<34} cannot be made: {}\n", not_possible.name, not_possible.reason);
    out += "\n" + methods.advice + ".\n";
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
    out += fmt::format("\n{} sprayed, as planned:", units.unit_name<Millilitres>());
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
    if (methods.line.target_width) json["wanted_width_mm"] = methods.line.target_width->value;
    if (methods.line.midline) json["planned_halfway_mm"] = methods.line.midline->value;
    for (const FadeMethodResult& method : methods.results) json["ways"].push_back(figures_json(method, methods));
    for (const render::InfeasibleMethod& not_possible : methods.infeasible)
        json["not_made"].push_back({{"name", not_possible.name}, {"reason", not_possible.reason}});
    json["best"] = methods.results[methods.best].name;
    json["runner_up"] = methods.results[methods.runner_up].name;
    json["advice"] = methods.advice;
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
