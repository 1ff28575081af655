// The search for a smoother fade.

#include "fadewright/render/tune.h"

#include "fadewright/app/commands.h"
#include "fadewright/plan/fade.h"
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
                                                                   {"middles", Vary::middles},
                                                                   {"middle_ratio", Vary::middle_ratio},
                                                                   {"extend", Vary::extend},
                                                                   {"passes", Vary::passes},
                                                                   {"width", Vary::width},
                                                                   {"place", Vary::place},
                                                                   {"overlap", Vary::overlap},
                                                                   {"distance", Vary::distance}}};

std::optional<Vary> vary_of(const std::string& word) {
    for (const auto& [name, vary] : kVary)
        if (name == word) return vary;
    return std::nullopt;
}

std::string vary_words() {
    std::string out;
    for (const auto& [name, vary] : kVary) out += (out.empty() ? "" : ", ") + std::string(name);
    return out;
}

}  // namespace

Outcome tune(const TuneRequest& request) {
    for (const std::string& file : {request.out, request.plot})
        if (!file.empty() && is_the_plan(file, request.plan)) return would_lose_plan(request.plan);
    render::TuneWish wish;
    if (!request.vary.empty()) wish.vary.clear();
    for (const std::string& word : request.vary) {
        const std::optional<Vary> vary = vary_of(word);
        if (!vary) return wrong_command("'" + word + "' cannot be varied", "--vary takes " + vary_words());
        wish.vary.push_back(*vary);
    }
    wish.width = request.width;
    wish.tolerance = request.tolerance;
    wish.most_film = request.most_film;
    wish.seed = static_cast<std::uint64_t>(request.seed);
    wish.within = request.within;
    wish.looks = request.looks;
    wish.progress = request.told;
    wish.stop = request.stopped;

    OpenedPlan opened = open_plan(request.plan, request.shelf, answer_of(request));
    if (!opened.ready()) return opened.outcome;
    plan::Plan& plan = *opened.plan;
    if (!request.light.empty()) plan.view.light.value = request.light;
    if (!render::faded_coat(plan)) {
        Outcome outcome;
        outcome.exit = Exit::wrong_data;
        outcome.talk = request.plan +
                       ": the plan has no fade to tune; write one as [coats.fade] (fadewright help plan)\n";
        return outcome;
    }
    const std::optional<render::Tuned> tuned = render::tuned(plan, wish, *opened.shelf, opened.diagnostics);
    if (!tuned) return wrong_data(opened.diagnostics, request.json);

    Outcome outcome;
    const std::string title = plan.title.empty() ? request.plan : plan.title;
    outcome.out = request.json ? report::tune_json(*tuned, title) : report::tune_text(*tuned, title);
    if (!request.out.empty()) {
        plan::Plan as_it_says = tuned->after.plan;
        as_it_says.units = opened.own_units;
        const Result<Done> written = write_whole(request.out, plan::plan_text(as_it_says));
        if (!written) return refused(written.refusal());
        say_written(outcome, request.out, request.json);
    }
    if (!request.plot.empty()) {
        const Result<Done> written =
            write_whole(request.plot, render::png_bytes(report::tune_plot(*tuned, title), {}));
        if (!written) return refused(written.refusal());
        say_written(outcome, request.plot, request.json);
    }
    return outcome;
}

}  // namespace fadewright::app
