// The methods of making a fade compared, or the plan's fade expanded into coats and passes.

#include "fadewright/plan/fade.h"

#include "compare_methods.h"
#include "fadewright/app/commands.h"
#include "outcome.h"

#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

Outcome expand(const FadeRequest& request) {
    OpenedPlan opened = open_plan(request.plan, request.library, output_options(request));
    if (!opened.ready()) return opened.outcome;
    const std::optional<plan::Plan> expanded =
        plan::expand_fades(*opened.plan, *opened.library, opened.diagnostics);
    if (!expanded) return data_error(opened.diagnostics, request.json);

    Outcome outcome;
    outcome.err = to_text(opened.diagnostics);
    plan::Plan in_plan_units = *expanded;
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
