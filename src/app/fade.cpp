// The methods of making a fade compared, or the plan's fade expanded into coats and passes.

#include "compare_methods.h"
#include "fadewright/app/commands.h"
#include "fadewright/plan/plan_text.h"
#include "fadewright/plan/resolve.h"
#include "outcome.h"

#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

Outcome expand(const FadeRequest& request) {
    OpenedPlan opened = open_plan(request.plan, request.library, output_options(request));
    if (!opened.ready()) return opened.outcome;
    const plan::ResolvedPlan resolved = plan::resolve(std::move(*opened.plan), *opened.library);
    if (!resolved.job) return data_error(resolved.diagnostics, request.json);

    Outcome outcome;
    outcome.err = to_text(resolved.diagnostics);
    plan::Plan in_plan_units = *resolved.expanded;
    in_plan_units.units = opened.plan_units;
    const std::string text = plan::plan_text(in_plan_units);
    if (!request.out.empty()) {
        const Result<Success> result = write_file_atomic(request.out, text);
        if (!result) return system_error(result.error());
        report_written(outcome, request.out, request.json);
    }
    if (request.json) {
        outcome.out = nlohmann::ordered_json{{"plan", text}}.dump(2) + "\n";
    } else if (request.out.empty()) {
        outcome.out = text;
    }
    return outcome;
}

}  // namespace

Outcome fade(const FadeRequest& request) {
    if (!request.out.empty() && overwrites_plan(request.out, request.plan))
        return refuse_overwrite(request.plan);
    if (!request.expand) return compare_methods(request);
    return expand(request);
}

}  // namespace fadewright::app
