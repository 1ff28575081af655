#include "fade_ways.h"

#include "fadewright/render/fade_way.h"
#include "fadewright/render/png.h"
#include "fadewright/render/preview.h"
#include "fadewright/report/fade_report.h"
#include "outcome.h"

namespace fadewright::app {

Outcome compare_ways(const FadeRequest& request) {
    OpenedPlan opened = open_plan(request.plan, request.shelf, answer_of(request));
    if (!opened.ready()) return opened.outcome;
    plan::Plan& plan = *opened.plan;
    if (!request.light.empty()) plan.view.light.value = request.light;
    const render::Watched watched{request.told, request.stopped};
    const std::optional<render::FadeWays> ways =
        render::fade_ways(plan, opened.source->text(), *opened.shelf, opened.diagnostics, watched);
    if (watched.over()) return ended_early();
    if (!ways) return wrong_data(opened.diagnostics, request.json);
    const std::string title = plan.title.empty() ? request.plan : plan.title;

    Outcome outcome;
    outcome.out = request.json ? report::fade_json(*ways, title) : report::fade_text(*ways, title);
    if (request.out.empty()) return outcome;
    render::PreviewSettings settings;
    settings.longest_px = 420;
    std::vector<Picture> pictures;
    const colour::OutputProfile srgb = colour::OutputProfile::srgb();
    for (const render::FadeWay& way : ways->ways)
        pictures.push_back(render::preview(way.job, way.job.light, srgb, settings).picture);
    const Result<Done> written =
        write_whole(request.out, render::png_bytes(report::fade_sheet(*ways, title, pictures), {}));
    if (!written) return refused(written.refusal());
    say_written(outcome, request.out, request.json);
    return outcome;
}

}  // namespace fadewright::app
