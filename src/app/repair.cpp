#include "repair.h"

#include "fadewright/plan/read_plan.h"
#include "fadewright/report/repair_report.h"

#include <fmt/core.h>

#include <memory>

namespace fadewright::app {
namespace {

// The plan that the piece was painted from: the last one used, default the current one.
struct RepairBasis {
    PlanInput plan;
    std::string description;
    std::string note;  // why it is not the last one used
};

RepairBasis repair_basis(const OpenedPlan& opened, const production::JobLog& record) {
    const production::PlanSnapshot* snapshot = production::last_used_plan(record);
    if (!snapshot) return {opened.input, "the plan; there is no job log", ""};
    if (snapshot->text == opened.input.text) return {opened.input, "the job log and the current plan", ""};
    const std::string hash = snapshot->sha256.value.substr(0, 8);
    if (plan::read_plan(std::make_shared<Source>("plan snapshot", snapshot->text)).plan)
        // As if it were the plan's file, so that drawings beside it are found.
        return {{opened.input.name, opened.input.folder, snapshot->text},
                fmt::format("the job log and plan {}, changed since", hash),
                ""};
    return {opened.input, "the job log and the current plan",
            fmt::format("plan copy {} cannot be read by this version; the current plan is used\n", hash)};
}

}  // namespace

Attempt<Outcome> repair(Session& session, const RecordRequest& request, const OpenedPlan& opened,
                        const production::JobLog& record) {
    const RepairBasis by = repair_basis(opened, record);
    const DisplayUnits units = opened.plan.units;
    const auto prepared = session.resolve(by.plan, units.system());
    if (!prepared) return system_failure(prepared.error());
    const PreparedPlan& resolved = *prepared.value();
    if (!resolved.job) return data_failure(resolved.diagnostics);
    plan::Library library = resolved.library;
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
