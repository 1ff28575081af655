#include "compare_methods.h"

#include "fadewright/render/fade_methods.h"
#include "fadewright/render/png.h"
#include "fadewright/render/preview.h"
#include "fadewright/report/fade_report.h"
#include "outcome.h"

namespace fadewright::app {

Outcome compare_methods(const FadeRequest& request) {
    OpenedPlan opened = open_plan(request.plan, request.library, output_options(request));
    if (!opened.ready()) return opened.outcome;
    plan::Plan& plan = *opened.plan;
    if (!request.light.empty()) plan.view.light.value = request.light;
    const render::Progress progress{request.on_progress, request.is_cancelled};
    const plan::ResolvedPlan resolved = plan::resolve(plan, *opened.library);
    if (!resolved.job) return data_error(resolved.diagnostics, request.json);
    const std::optional<render::FadeMethodComparison> methods =
        render::compare_fade_methods(resolved, *opened.library, progress);
    if (!methods) return cancelled_outcome();
    const std::string title = plan.title.empty() ? request.plan : plan.title;

    Outcome outcome;
    outcome.out = request.json ? report::fade_json(*methods, title) : report::fade_text(*methods, title);
    if (request.out.empty()) return outcome;
    render::PreviewSettings settings;
    settings.longest_px = 420;
    std::vector<Picture> pictures;
    const colour::OutputProfile srgb = colour::OutputProfile::srgb();
    for (const render::FadeMethodResult& method : methods->results)
        pictures.push_back(render::preview(method.job, method.job.light, srgb, settings).picture);
    const Result<Success> result =
        write_file_atomic(request.out, render::png_bytes(report::fade_sheet(*methods, title, pictures), {}));
    if (!result) return system_error(result.error());
    report_written(outcome, request.out, request.json);
    return outcome;
}

}  // namespace fadewright::app
