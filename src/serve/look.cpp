#include "look.h"

#include "fadewright/film/looker.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/render/frame.h"
#include "fadewright/report/shown.h"

namespace fadewright::serve {
namespace {

constexpr int kFramed_px = 1280;
constexpr Millimetres kMargin{20.0};

Json panel_json(const plan::Job& job) {
    Json rings = Json::array();
    const spray::Outline outline = job.panel.drawn_outline();
    for (const spray::Ring& ring : outline.rings()) {
        Json corners = Json::array();
        for (const spray::Corner& corner : ring) corners.push_back({corner.x_mm, corner.y_mm});
        rings.push_back(std::move(corners));
    }
    const film::Looker looker(job.light, job.observer);
    return {{"width_mm", job.panel.width.value},
            {"height_mm", job.panel.height.value},
            {"outline", rings},
            {"ground", {{"name", job.ground_name}, {"colour", report::hex_of(looker.lab(job.ground))}}}};
}

Json frame_json(const plan::Job& job) {
    const render::Frame frame = render::framed(job.panel, kFramed_px, kMargin);
    return {{"left_mm", frame.left_mm},
            {"top_mm", frame.top_mm},
            {"mm_per_px", frame.mm_per_px},
            {"width_px", frame.width},
            {"height_px", frame.height}};
}

Json view_json(const plan::View& view) {
    return {{"light", view.light.value},
            {"angle", to_text(view.angle)},
            {"distance", to_text(view.distance)},
            {"surface", name_of(view.surface)}};
}

}  // namespace

Json point_json(const plan::Point& point) { return {point.x.value, point.y.value}; }

Answer looked(Desk& desk, const Asked& asked) {
    const std::shared_ptr<const InWork> work = desk.work(asked);
    Json json{{"good", work->job.has_value()}, {"diagnostics", Json::parse(to_json(work->diagnostics))}};
    if (work->plan) {
        json["title"] = work->plan->title;
        json["view"] = view_json(work->plan->view);
        json["coats"] = coats_of(*work);
    }
    if (work->job) {
        json["panel"] = panel_json(*work->job);
        json["frame"] = frame_json(*work->job);
        json["pots"] = pots_of(*work);
        json["paint_data"] = report::origin_words(work->job->origin);
    }
    return answer(json);
}

}  // namespace fadewright::serve
