#include "repair.h"

#include "fadewright/plan/read_plan.h"
#include "fadewright/planner/resolve.h"
#include "fadewright/report/repair_report.h"

#include <fmt/core.h>

#include <memory>

namespace fadewright::app {
namespace {

// The plan that the piece was painted from: the last one used, default the current one.
struct RepairBasis {
    plan::Plan plan;
    std::string description;
    std::string note;  // why it is not the last one used
};

RepairBasis repair_basis(const OpenedPlan& opened, const production::JobLog& record) {
    const std::string now = opened.source->text();
    const production::PlanSnapshot* snapshot = production::last_used_plan(record);
    if (!snapshot) return {opened.plan, "the plan; there is no job log", ""};
    if (snapshot->text == now) return {opened.plan, "the job log and the current plan", ""};
    // As if it were the plan's file, so that drawings beside it are found.
    std::optional<plan::Plan> plan =
        plan::read_plan(
            std::make_shared<Source>(opened.source->name(), snapshot->text, opened.source->folder()))
            .plan;
    const std::string hash = snapshot->sha256.value.substr(0, 8);
    if (plan) return {std::move(*plan), fmt::format("the job log and plan {}, changed since", hash), ""};
    return {opened.plan, "the job log and the current plan",
            fmt::format("plan copy {} cannot be read by this version; the current plan is used\n", hash)};
}

}  // namespace

Attempt<Outcome> repair(const RecordRequest& request, const OpenedPlan& opened,
                        const production::JobLog& record) {
    RepairBasis by = repair_basis(opened, record);
    const DisplayUnits units = opened.plan.units;
    by.plan.units = units.system();
    plan::Library library = opened.library;
    const planner::ResolvedPlan resolved = planner::resolve(std::move(by.plan), library);
    if (!resolved.job) return data_failure(resolved.diagnostics);
    const plan::Job& job = *resolved.job;
    const PanelPoint at = *request.repair;
    if (!job.panel.inside(at.x.value, at.y.value))
        return usage_failure(
            fmt::format("{}, {} is not on the panel", units.input_text(at.x), units.input_text(at.y)),
            fmt::format("the panel is {} wide and {} high", units.input_text(job.panel.width),
                        units.input_text(job.panel.height)));
    assess::RepairRequest repair_request;
    repair_request.point = {at.x, at.y};
    repair_request.diameter = request.size;
    repair_request.mismatch = request.mismatch;
    repair_request.film_error = request.film_error;
    const report::RepairReport report{
        job.title, by.description, assess::repair(*resolved.expanded, job, library, &record, repair_request),
        resolved.expanded->mixing, units};
    if (report.repair.coats.empty()) return data_failure("no coat at this point", "give a painted point");
    Outcome outcome;
    outcome.err = by.note + to_text(resolved.diagnostics);
    outcome.out = request.json ? report::repair_json(report) : report::repair_text(report);
    return outcome;
}

}  // namespace fadewright::app
