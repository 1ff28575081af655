#include "fadewright/assess/defects.h"
#include "fadewright/assess/fade_methods.h"
#include "fadewright/assess/section.h"
#include "fadewright/production/amounts.h"
#include "fadewright/report/format.h"
#include "fadewright/report/phrases_amounts.h"
#include "fadewright/report/phrases_defects.h"
#include "fadewright/report/phrases_fade.h"
#include "page_model.h"

#include <fmt/core.h>

namespace fadewright::app {
namespace {

constexpr std::size_t kSectionPoints = 161;

class ForecastList {
public:
    void add(std::string_view topic, const std::string& text, assess::Severity severity,
             const Json& coat = nullptr) {
        list.push_back({{"topic", topic},
                        {"text", text},
                        {"severity", assess::severity_name(severity)},
                        {"coat", coat}});
    }
    Json list = Json::array();
};

void add_fade(const PreparedPlan& prepared, ForecastList& sentences, Json& figures) {
    const assess::AssessmentLine line = assess::assessment_line(*prepared.plan, prepared.job->panel);
    const auto points = assess::fade_samples(*prepared.job, line, assess::kFadeSamples);
    const auto found = assess::fade_metrics(points, {prepared.job->view_distance, {}});
    if (!found) {
        if (assess::fade_coat_index(*prepared.plan))
            sentences.add(report::topic_name(report::FadeTopic::width), std::string(report::kFadeEndsAlike),
                          assess::Severity::check);
        return;
    }
    const DisplayUnits units = prepared.job->units;
    const bool banded = found->banding_over_threshold >= 1;
    for (const report::FadeSentence& sentence : report::describe_fade(*found, units))
        sentences.add(report::topic_name(sentence.topic), sentence.text,
                      sentence.topic == report::FadeTopic::banding && banded ? assess::Severity::check
                                                                             : assess::Severity::ok);
    if (const auto offset = assess::midpoint_offset(*prepared.plan, found, line)) {
        const report::FadeSentence sentence = report::describe_midpoint_offset(*offset, units);
        sentences.add(report::topic_name(sentence.topic), sentence.text, assess::Severity::check);
    }
    figures["width_mm"] = found->width.value;
    figures[report::kBandingMember] = found->banding_over_threshold;
    figures["steepest_dE00_per_mm"] = found->steepest_per_mm;
    figures["largest_step_dE00"] = found->largest_step;
    figures["abruptness"] = found->abruptness;
}

Json find_coat(const PreparedPlan& prepared, const std::string& name) {
    for (std::size_t c = 0; c < prepared.job->coats.size(); ++c)
        if (prepared.job->coats[c].name == name) return prepared.plan_coat(c);
    return nullptr;
}

void add_defects(const PreparedPlan& prepared, ForecastList& sentences) {
    for (const assess::Defect& defect : report::significant_defects(assess::list_defects(*prepared.job)))
        sentences.add(assess::defect_name(defect.kind), report::describe_defect(defect, prepared.job->units),
                      defect.severity, find_coat(prepared, defect.coat));
}

void add_amounts(const PreparedPlan& prepared, ForecastList& sentences, Json& figures) {
    plan::Library library = prepared.library;
    const production::Amounts amounts = production::amounts_of(*prepared.expanded, *prepared.job, library);
    int passes = 0;
    double seconds = 0;
    for (const production::CoatAmounts& coat : amounts.coats) {
        passes += coat.passes;
        seconds += coat.trigger_time.value;
    }
    sentences.add("passes", report::describe_passes(passes, Seconds{seconds}), assess::Severity::ok);
    const DisplayUnits units = prepared.job->units;
    Json mixes = Json::array();
    for (const production::MixAmounts& mix : amounts.mixes) {
        sentences.add("amount", report::describe_mix_amount(mix, units), assess::Severity::ok);
        mixes.push_back({{"mix", mix.name},
                         {"sprayable_mL", mix.sprayable().value},
                         {"binder_g_per_L", mix.paint.binder_g_per_litre}});
        if (const auto warning = report::describe_coarse_weighing(mix, units))
            sentences.add("amount", *warning, assess::Severity::check);
    }
    figures["passes"] = passes;
    figures["mixes"] = mixes;
    if (const auto cost = amounts.cost()) figures["cost"] = *cost;
}

plan::Point point_or(const std::optional<PanelPoint>& point, const plan::Point& fallback) {
    return point ? plan::Point{point->x, point->y} : fallback;
}

}  // namespace

Outcome forecast(Session& session, const PageRequest& request) {
    const auto resolved = page_plan(session, request);
    if (!resolved) return failed(resolved.error(), true);
    const std::shared_ptr<const PreparedPlan>& prepared = resolved.value();
    ForecastList sentences;
    Json figures = Json::object();
    add_fade(*prepared, sentences, figures);
    add_defects(*prepared, sentences);
    add_amounts(*prepared, sentences, figures);
    return json_outcome({{"sentences", sentences.list}, {"figures", figures}});
}

Outcome panel_section(Session& session, const PanelSectionRequest& request) {
    const auto resolved = page_plan(session, request);
    if (!resolved) return failed(resolved.error(), true);
    const std::shared_ptr<const PreparedPlan>& prepared = resolved.value();
    const Attempt<colour::Illuminant> light = find_light(*prepared, request.light);
    if (!light) return failed(light.error(), true);
    const assess::AssessmentLine fade_line = assess::assessment_line(*prepared->plan, prepared->job->panel);
    const plan::Point from = point_or(request.from, fade_line.from), to = point_or(request.to, fade_line.to);
    if (from.x == to.x && from.y == to.y) return failed(usage_failure("the line is too short", ""), true);
    const assess::Section section = assess::section(*prepared->job, light.value(), from, to, kSectionPoints);
    Json at_mm = Json::array(), L = Json::array(), a = Json::array(), b = Json::array();
    Json colours = Json::array(), films = Json::array();
    std::vector<assess::FadeSample> points;
    for (const assess::SectionSample& point : section.samples) {
        at_mm.push_back(report::round_to_thousandths(point.along.value));
        L.push_back(report::round_to_thousandths(point.lab.L));
        a.push_back(report::round_to_thousandths(point.lab.a));
        b.push_back(report::round_to_thousandths(point.lab.b));
        colours.push_back(report::hex_colour(point.lab));
        points.push_back({point.along.value, point.lab});
    }
    for (std::size_t c = 0; c < section.coats.size(); ++c) {
        Json um = Json::array();
        for (const assess::SectionSample& point : section.samples)
            um.push_back(report::round_to_thousandths(point.films[c].value));
        films.push_back({{"coat", prepared->plan_coat(c)}, {"name", section.coats[c]}, {"um", um}});
    }
    Json json{{"from", {from.x.value, from.y.value}},
              {"to", {to.x.value, to.y.value}},
              {"at_mm", at_mm},
              {"L", L},
              {"a", a},
              {"b", b},
              {"colours", colours},
              {"films", films},
              {"sentences", Json::array()}};
    if (const auto figures = assess::fade_metrics(points, {prepared->job->view_distance, {}})) {
        for (const report::FadeSentence& sentence : report::describe_fade(*figures, prepared->job->units)) {
            json["sentences"].push_back(sentence.text);
            if (sentence.topic == report::FadeTopic::width) json["width"] = sentence.text;
        }
        json["at_10_mm"] = figures->at_10.value;
        json["at_50_mm"] = figures->at_half.value;
        json["at_90_mm"] = figures->at_90.value;
    }
    return json_outcome(json);
}

}  // namespace fadewright::app
