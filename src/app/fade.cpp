// The ways of making a fade compared, or the plan's own written out as coats and passes.

#include "fadewright/plan/fade.h"

#include "embedded.h"
#include "fade_ways.h"
#include "fadewright/app/commands.h"
#include "outcome.h"

#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

Outcome expand(const FadeRequest& request) {
    Result<plan::Shelf> shelf = plan::Shelf::open(embedded_presets(), request.shelf);
    if (!shelf) return refused(shelf.refusal());
    plan::Shelf opened = std::move(shelf).value();
    const Result<std::shared_ptr<const Source>> source = read_source(request.plan);
    if (!source) return refused(source.refusal());
    Diagnostics diagnostics;
    const std::optional<plan::Plan> plan = plan::read_plan(source.value(), diagnostics);
    const std::optional<plan::Plan> expanded =
        plan ? plan::expanded_plan(*plan, opened, diagnostics) : std::nullopt;
    if (!expanded) return wrong_data(diagnostics, request.json);

    Outcome outcome;
    outcome.talk = to_text(diagnostics);
    const std::string text = plan::plan_text(*expanded);
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
