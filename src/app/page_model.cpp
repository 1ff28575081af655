#include "page_model.h"

#include "fadewright/film/colorimeter.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/render/frame.h"
#include "fadewright/report/format.h"

namespace fadewright::app {
namespace {

constexpr int kFrameSize_px = 1280;
constexpr Millimetres kMargin{20.0};

Json panel_json(const plan::Job& job) {
    Json rings = Json::array();
    const geometry::Outline outline = job.panel.outline_or_rectangle();
    for (const geometry::Ring& ring : outline.rings()) {
        Json corners = Json::array();
        for (const geometry::PlanePoint& corner : ring) corners.push_back({corner.x_mm, corner.y_mm});
        rings.push_back(std::move(corners));
    }
    const film::Colorimeter colorimeter(job.light, job.observer);
    return {
        {"width_mm", job.panel.width.value},
        {"height_mm", job.panel.height.value},
        {"outline", rings},
        {"ground", {{"name", job.ground_name}, {"colour", report::hex_colour(colorimeter.lab(job.ground))}}}};
}

Json frame_json(const plan::Job& job) {
    const render::Frame frame = render::panel_frame(job.panel, kFrameSize_px, kMargin);
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

Outcome json_outcome(const Json& json) {
    Outcome outcome;
    outcome.out = json.dump(-1, ' ', false, Json::error_handler_t::replace);
    return outcome;
}

Attempt<std::shared_ptr<const PreparedPlan>> page_plan(Session& session, const PageRequest& request) {
    const auto prepared = session.resolve(request.plan, request.units);
    if (!prepared) return system_failure(prepared.error());
    if (prepared.value()->job) return prepared.value();
    Failure failure = data_failure(prepared.value()->diagnostics);
    failure.message = "the plan has errors";
    failure.hint.clear();
    return failure;
}

Outcome model(Session& session, const PageRequest& request) {
    const auto resolved = session.resolve(request.plan, request.units);
    if (!resolved) return failed(system_failure(resolved.error()), true);
    const std::shared_ptr<const PreparedPlan>& prepared = resolved.value();
    Json json{{"valid", prepared->job.has_value()},
              {"diagnostics", Json::parse(to_json(prepared->diagnostics))}};
    if (prepared->plan) {
        json["title"] = prepared->plan->title;
        json["view"] = view_json(prepared->plan->view);
        json["coats"] = coats_json(*prepared);
    }
    if (prepared->job) {
        json["panel"] = panel_json(*prepared->job);
        json["frame"] = frame_json(*prepared->job);
        json["mixes"] = mixes_json(*prepared);
        json["paint_data"] = report::provenance_label(prepared->job->origin);
    }
    return json_outcome(json);
}

}  // namespace fadewright::app
