// The search for a smoother fade.

#include "fadewright/assess/tune.h"

#include "fadewright/app/commands.h"
#include "fadewright/plan/plan_text.h"
#include "fadewright/planner/resolve.h"
#include "fadewright/render/png.h"
#include "fadewright/report/tune_report.h"
#include "outcome.h"

#include <array>
#include <utility>

namespace fadewright::app {
namespace {

using assess::Vary;

constexpr std::array<std::pair<std::string_view, Vary>, 10> kVary{{{"method", Vary::method},
                                                                   {"order", Vary::order},
                                                                   {"mid-colours", Vary::mid_colours},
                                                                   {"mid-ratio", Vary::mid_ratio},
                                                                   {"extend", Vary::extend},
                                                                   {"passes", Vary::passes},
                                                                   {"width", Vary::width},
                                                                   {"position", Vary::position},
                                                                   {"overlap", Vary::overlap},
                                                                   {"distance", Vary::distance}}};

std::optional<Vary> parse_vary(const std::string& word) {
    for (const auto& [name, vary] : kVary)
        if (name == word) return vary;
    return std::nullopt;
}

std::string vary_names() {
    std::string out;
    for (const auto& [name, vary] : kVary) out += (out.empty() ? "" : ", ") + std::string(name);
    return out;
}

Attempt<assess::TuneOptions> options_of(const TuneRequest& request) {
    assess::TuneOptions options;
    if (!request.vary.empty()) options.vary.clear();
    for (const std::string& word : request.vary) {
        const std::optional<Vary> vary = parse_vary(word);
        if (!vary) return option_failure("'" + word + "' cannot be varied", "--vary takes " + vary_names());
        options.vary.push_back(*vary);
    }
    options.width = request.width;
    options.tolerance = request.tolerance;
    options.max_film = request.max_film;
    options.seed = static_cast<std::uint64_t>(request.seed);
    options.time_limit = request.time_limit;
    options.trials = request.trials;
    options.progress = request.progress;
    return options;
}

}  // namespace

Outcome tune(Session& session, const TuneRequest& request) {
    for (const std::string& file : {request.out, request.plot})
        if (const Check done = check_overwrite(file, request.plan); !done)
            return failed(done.error(), request);
    const Attempt<assess::TuneOptions> options = options_of(request);
    if (!options) return failed(options.error(), request);
    const Attempt<OpenedPlan> read = open_plan(session, request.plan, output_options(request));
    if (!read) return failed(read.error(), request);
    if (!assess::fade_coat_index(read.value().plan)) {
        const Failure failure =
            data_failure("the plan has no fade", "add one as [coats.fade] (fadewright help fades)");
        Outcome outcome = failed(failure, request);
        outcome.err = request.plan.name + ": " + failure.message + "; " + failure.hint + "\n";
        return outcome;
    }
    const auto opened =
        open_job_in_light(session, read.value().input, request.light, output_options(request));
    if (!opened) return failed(opened.error(), request);
    const PreparedPlan& prepared = *opened.value();
    const assess::TuneResult tuned = assess::tune_fade(prepared, options.value(), prepared.library);

    Outcome outcome;
    const std::string& title = prepared.plan->title.empty() ? request.plan.name : prepared.plan->title;
    outcome.out = request.json ? report::tune_json(tuned, title) : report::tune_text(tuned, title);
    if (!request.out.empty()) {
        plan::Plan in_plan_units = tuned.after.plan;
        in_plan_units.units = prepared.written_units;
        add_artefact(outcome, request.out, plan::plan_text(in_plan_units), request.json);
    }
    if (!request.plot.empty())
        add_artefact(outcome, request.plot, render::png_bytes(report::tune_plot(tuned, title), {}),
                     request.json);
    return outcome;
}

}  // namespace fadewright::app
