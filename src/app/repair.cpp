#include "repair.h"

#include "fadewright/plan/fade.h"
#include "fadewright/report/repair_report.h"

#include <fmt/core.h>

#include <memory>

namespace fadewright::app {
namespace {

// The plan that the piece was painted by: the one last worked by, else the one now.
struct PaintedBy {
    plan::Plan plan;
    std::string text, words;
};

PaintedBy painted_by(const OpenedPlan& opened, const plan::RecordFile& record, std::string& talk) {
    const std::string now = opened.source->text();
    const plan::KeptPlan* kept = plan::last_worked_by(record);
    if (!kept) return {*opened.plan, now, "the plan; nothing is recorded"};
    if (kept->text == now) return {*opened.plan, now, "the record, by the plan as it is"};
    Diagnostics diagnostics;
    // Under the plan's name, so that drawings beside it are found.
    auto plan = plan::read_plan(std::make_shared<Source>(opened.source->name(), kept->text), diagnostics);
    const std::string hash = kept->sha256.value.substr(0, 8);
    if (plan)
        return {std::move(*plan), kept->text, fmt::format("the record, by plan {}, changed since", hash)};
    talk += fmt::format("the kept plan {} cannot be read by this version: the plan now is taken\n", hash);
    return {*opened.plan, now, "the record, by the plan as it is"};
}

}  // namespace

Outcome repair(const RecordRequest& request, OpenedPlan opened, const plan::RecordFile& record) {
    Outcome outcome;
    const PaintedBy by = painted_by(opened, record, outcome.talk);
    Diagnostics diagnostics;
    const ShownUnits units = opened.plan->units;
    diagnostics.show_in(units.system());
    const auto laid = plan::laid_plan(by.plan, by.text, *opened.shelf, diagnostics);
    if (!laid) return wrong_data(diagnostics, request.json);
    const plan::Job& job = laid->job;
    const PanelPlace at = *request.repair;
    if (!job.panel.inside(at.x.value, at.y.value))
        return wrong_command(
            fmt::format("{}, {} does not lie on the panel", units.as_given(at.x), units.as_given(at.y)),
            fmt::format("it is {} wide and {} high", units.as_given(job.panel.width),
                        units.as_given(job.panel.height)));
    render::RepairAsked asked;
    asked.at = {at.x, at.y};
    asked.across = request.size;
    asked.mismatch = request.mismatch;
    asked.film_error = request.film_error;
    const report::RepairTold told{job.title, by.words,
                                  render::repair(laid->plan, job, *opened.shelf, &record, asked),
                                  laid->plan.mixing, units};
    if (told.repair.coats.empty())
        return {Exit::wrong_data, "", "error: no coat lies there\n       = hint: name a painted place\n"};
    outcome.talk += to_text(diagnostics);
    outcome.out = request.json ? report::repair_json(told) : report::repair_words(told);
    return outcome;
}

}  // namespace fadewright::app
