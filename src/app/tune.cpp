// The search for a smoother fade.

#include "fadewright/render/tune.h"

#include "fadewright/app/commands.h"
#include "fadewright/plan/plan_text.h"
#include "fadewright/plan/resolve.h"
#include "fadewright/render/png.h"
#include "fadewright/report/tune_report.h"
#include "outcome.h"

#include <array>
#include <utility>

namespace fadewright::app {
namespace {

using render::Vary;

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

}  // namespace

Outcome tune(const TuneRequest& request) {
    for (const std::string& file : {request.out, request.plot})
        if (!file.empty() && overwrites_plan(file, request.plan)) return refuse_overwrite(request.plan);
    render::TuneOptions options;
    if (!request.vary.empty()) options.vary.clear();
    for (const std::string& word : request.vary) {
        const std::optional<Vary> vary = parse_vary(word);
        if (!vary) return usage_error("'" + word + "' cannot be varied", "--vary takes " + vary_names());
        options.vary.push_back(*vary);
    }
    options.width = request.width;
    options.tolerance = request.tolerance;
    options.max_film = request.max_film;
    options.seed = static_cast<std::uint64_t>(request.seed);
    options.time_limit = request.time_limit;
    options.trials = request.trials;
    options.on_report = request.on_progress;
    options.cancel_requested = request.is_cancelled;

    OpenedPlan opened = open_plan(request.plan, request.library, output_options(request));
    if (!opened.ready()) return opened.outcome;
    plan::Plan& plan = *opened.plan;
    if (!request.light.empty()) plan.view.light.value = request.light;
    if (!render::fade_coat_index(plan)) {
        Outcome outcome;
        outcome.exit = Exit::data_error;
        outcome.err =
            request.plan + ": the plan has no fade; add one as [coats.fade] (fadewright help fades)\n";
        return outcome;
    }
    const plan::ResolvedPlan resolved = plan::resolve(plan, *opened.library);
    if (!resolved.job) return data_error(resolved.diagnostics, request.json);
    const render::TuneResult tuned = render::tune_fade(resolved, options, *opened.library);

    Outcome outcome;
    const std::string title = plan.title.empty() ? request.plan : plan.title;
    outcome.out = request.json ? report::tune_json(tuned, title) : report::tune_text(tuned, title);
    if (!request.out.empty()) {
        plan::Plan in_plan_units = tuned.after.plan;
        in_plan_units.units = opened.plan_units;
        const Result<Success> result = write_file_atomic(request.out, plan::plan_text(in_plan_units));
        if (!result) return system_error(result.error());
        report_written(outcome, request.out, request.json);
    }
    if (!request.plot.empty()) {
        const Result<Success> result =
            write_file_atomic(request.plot, render::png_bytes(report::tune_plot(tuned, title), {}));
        if (!result) return system_error(result.error());
        report_written(outcome, request.plot, request.json);
    }
    return outcome;
}

}  // namespace fadewright::app
