#include "fadewright/report/fade_report.h"

#include "fadewright/report/format.h"
#include "fadewright/report/phrases_defects.h"
#include "fadewright/report/phrases_fade.h"
#include "fadewright/report/phrases_methods.h"

#include "fadewright/plan/fade_diff.h"

#include <fmt/core.h>

#include <array>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using assess::FadeMethodComparison;
using assess::FadeMethodResult;

constexpr std::size_t kSamplesPerColour = 10;  // of the JSON

std::string method_row(const FadeMethodResult& method, const std::string& mark) {
    const DisplayUnits units = method.job.units;
    const assess::FadeCost& c = method.cost;
    std::string figures =
        fmt::format("{:>7} {:>8} {:>8} {:>10} {:>10} {:>7} {:>6}", "-", "-", "-", "-", "-", "-", "-");
    if (method.metrics) {
        const assess::FadeMetrics& f = *method.metrics;
        figures = fmt::format("{:>7} {:>8} {:>8.1f} {:>10.2f} {:>10.2f} {:>7.1f} {:>6.0f}",
                              units.number(f.width), units.slope(f.steepest_per_mm), f.largest_step,
                              f.banding_over_threshold, f.abruptness, f.chroma_loss, f.hue_shift.value);
    }
    return fmt::format("{:<2}{:<40} {} {:>10.1f} {:>6.2f} {:>7.0f} {:>6} {:>7} {:>7}\n", mark,
                       method_name(method), figures, c.grain_L, c.dry_spray.value, 100 * c.sag.value,
                       c.passes, clock_text(c.trigger_time), units.number(c.max_film));
}

// Of a method with metrics.
std::vector<FadeSentence> sentences_of(const FadeMethodResult& method, const assess::AssessmentLine& line) {
    const DisplayUnits units = method.job.units;
    std::vector<FadeSentence> sentences = describe_fade(*method.metrics, units);
    if (const auto offset = assess::midpoint_offset(method.plan, method.metrics, line))
        sentences.push_back(describe_midpoint_offset(*offset, units));
    return sentences;
}

std::string head_row(const std::array<std::string, 13>& head) {
    constexpr std::array kWidths{7, 8, 8, 10, 10, 7, 6, 10, 6, 7, 6, 7, 7};
    std::string row(42, ' ');
    for (std::size_t i = 0; i < head.size(); ++i) row += fmt::format(" {:>{}}", head[i], kWidths[i]);
    return row + "\n";
}

nlohmann::ordered_json figures_json(const FadeMethodResult& method, const FadeMethodComparison& methods) {
    nlohmann::ordered_json json;
    json["name"] = method_name(method);
    json["score"] = method.penalty;
    if (method.metrics) {
        const assess::FadeMetrics& f = *method.metrics;
        json["width_mm"] = f.width.value;
        json["width_degrees"] = f.angular_width.value;
        json["visual_midpoint_mm"] = f.at_half.value;
        json["steepest_dE00_per_mm"] = f.steepest_per_mm;
        json["steepest_dE00_per_degree"] = f.steepest_per_deg;
        json["steepest_over_mean"] = f.steepest_over_mean;
        json["largest_step_dE00"] = f.largest_step;
        json[kBandingMember] = f.banding_over_threshold;
        json["abruptness"] = f.abruptness;
        json["chroma_loss"] = f.chroma_loss;
        json["hue_shift_deg"] = f.hue_shift.value;
        json["lightness_reversal_L"] = f.reversal;
        json["details"] = texts_of(sentences_of(method, methods.line));
    }
    json["graininess_L"] = method.cost.grain_L;
    json["dry_spray_index"] = method.cost.dry_spray.value;
    json["sag_over_limit"] = method.cost.sag.value;
    json["passes"] = method.cost.passes;
    json["trigger_seconds"] = method.cost.trigger_time.value;
    json["max_film_um"] = method.cost.max_film.value;
    for (std::size_t i = 0; i < method.samples.size(); i += kSamplesPerColour) {
        const assess::FadeSample& sample = method.samples[i];
        json["colours"].push_back(
            {{"at_mm", sample.position_mm}, {"Lab", {sample.lab.L, sample.lab.a, sample.lab.b}}});
    }
    for (const assess::PaintUse& use : method.cost.paint) json["sprayed_mL"][use.mix] = use.sprayed.value;
    json["summary"] = fade_summary(method);
    json["edits"] = plan_edits_json(methods.results.front().plan, method.plan);
    return json;
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
    for (const assess::InfeasibleMethod& not_possible : methods.infeasible)
        out += fmt::format("  {:<40} not possible here: {}\n",
                           variation_label(not_possible.variation, not_possible.fade), not_possible.reason);
    out += "\nRecommended: " + advice_text(methods) + ".\n";
    const FadeMethodResult& own = methods.results.front();
    if (own.metrics) {
        out += fmt::format("\n{}:\n", method_name(own));
        for (const FadeSentence& sentence : sentences_of(own, methods.line))
            out += "  " + sentence.text + "\n";
    }
    for (const assess::Defect* defect : {&own.cost.sag, &own.cost.dry_spray, &own.cost.striping})
        if (defect->severity != assess::Severity::ok) out += "  " + defect_details(*defect, units) + "\n";
    if (const std::string text = describe_extension(methods); !text.empty()) out += "\n" + text;
    out += fmt::format("\nPaint used by your plan, {}:", units.unit_name<Millilitres>());
    for (const assess::PaintUse& use : own.cost.paint)
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
    for (const assess::InfeasibleMethod& not_possible : methods.infeasible)
        json["not_possible"].push_back({{"name", variation_label(not_possible.variation, not_possible.fade)},
                                        {"reason", not_possible.reason}});
    json["recommended"] = method_name(methods.results[methods.best]);
    json["runner_up"] = method_name(methods.results[methods.runner_up]);
    json["advice"] = advice_text(methods);
    return json.dump(2) + "\n";
}

nlohmann::ordered_json plan_edits_json(const plan::Plan& before, const plan::Plan& after) {
    nlohmann::ordered_json json = nlohmann::ordered_json::array();
    const std::optional<std::size_t> coat = assess::fade_coat_index(before);
    if (!coat) return json;
    for (const plan::TextEdit& edit : plan::fade_diff(before, after, *coat)) {
        if (edit.to) {
            json.push_back({{"set", edit.path}, {"to", *edit.to}});
        } else {
            json.push_back({{"delete", edit.path}});
        }
    }
    return json;
}

}  // namespace fadewright::report
