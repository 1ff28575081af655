// The methods of making a fade compared, or the plan's fade expanded into coats and passes.

#include "fadewright/app/commands.h"
#include "fadewright/assess/fade_methods.h"
#include "fadewright/plan/plan_text.h"
#include "fadewright/render/png.h"
#include "fadewright/render/preview.h"
#include "fadewright/report/fade_report.h"
#include "outcome.h"

#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

Outcome expand(Session& session, const FadeRequest& request) {
    const auto opened = open_job(session, request.plan, output_options(request));
    if (!opened) return failed(opened.error(), request);
    Outcome outcome;
    outcome.err = to_text(opened.value()->diagnostics);
    plan::Plan in_plan_units = *opened.value()->expanded;
    in_plan_units.units = opened.value()->written_units;
    const std::string text = plan::plan_text(in_plan_units);
    if (!request.out.empty()) add_artefact(outcome, request.out, text, request.json);
    if (request.json) {
        outcome.out = json_text({{"plan", text}});
    } else if (request.out.empty()) {
        outcome.out = text;
    }
    return outcome;
}

std::string comparison_sheet(const assess::FadeMethodComparison& methods, const std::string& title) {
    render::PreviewSettings settings;
    settings.longest_px = 420;
    std::vector<Picture> pictures;
    const colour::OutputProfile srgb = colour::OutputProfile::srgb();
    for (const assess::FadeMethodResult& method : methods.results)
        pictures.push_back(render::preview(method.job, method.job.light, srgb, settings).picture);
    return render::png_bytes(report::fade_sheet(methods, title, pictures), {});
}

Outcome compare(Session& session, const FadeRequest& request) {
    const auto opened = open_job_in_light(session, request.plan, request.light, output_options(request));
    if (!opened) return failed(opened.error(), request);
    const PreparedPlan& prepared = *opened.value();
    plan::Library library = prepared.library;
    const std::optional<assess::FadeMethodComparison> methods =
        assess::compare_fade_methods(prepared, library, request.progress);
    if (!methods) return failed(cancelled_failure(), request);
    const std::string title = prepared.plan->title.empty() ? request.plan.name : prepared.plan->title;
    Outcome outcome;
    outcome.out = request.json ? report::fade_json(*methods, title) : report::fade_text(*methods, title);
    if (!request.out.empty())
        add_artefact(outcome, request.out, comparison_sheet(*methods, title), request.json);
    return outcome;
}

}  // namespace

Outcome fade(Session& session, const FadeRequest& request) {
    if (const Check done = check_overwrite(request.out, request.plan); !done)
        return failed(done.error(), request);
    return request.expand ? expand(session, request) : compare(session, request);
}

}  // namespace fadewright::app
