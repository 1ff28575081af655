// The ways of making a fade compared, or the plan's own written out as coats and passes.

#include "fadewright/plan/fade.h"

#include "fade_ways.h"
#include "fadewright/app/commands.h"
#include "outcome.h"

#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

Outcome expand(const FadeRequest& request) {
    OpenedPlan opened = open_plan(request.plan, request.shelf, answer_of(request));
    if (!opened.ready()) return opened.outcome;
    const std::optional<plan::Plan> expanded =
        plan::expanded_plan(*opened.plan, *opened.shelf, opened.diagnostics);
    if (!expanded) return wrong_data(opened.diagnostics, request.json);

    Outcome outcome;
    outcome.talk = to_text(opened.diagnostics);
    plan::Plan as_it_says = *expanded;
    as_it_says.units = opened.own_units;
    const std::string text = plan::plan_text(as_it_says);
    if (!request.out.empty()) {
        const Result<Done> written = write_whole(request.out, text);
        if (!written) return refused(written.refusal());
        say_written(outcome, request.out, request.json);
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
    if (!request.out.empty() && is_the_plan(request.out, request.plan)) return would_lose_plan(request.plan);
    if (!request.expand) return compare_ways(request);
    return expand(request);
}

}  // namespace fadewright::app
