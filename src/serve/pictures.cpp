#include "pictures.h"

#include "fadewright/app/requests_schema.h"
#include "fadewright/base/strings.h"
#include "fadewright/colour/profile.h"
#include "fadewright/render/display_shape.h"
#include "fadewright/render/frame.h"
#include "fadewright/render/png.h"
#include "fadewright/report/format.h"
#include "fadewright/serve/serve.h"
#include "overlay.h"

#include <fmt/core.h>

#include <glib.h>

#include <algorithm>
#include <chrono>

namespace fadewright::serve {
namespace {

constexpr int kMinSize_px = 32;
constexpr int kDefaultSize_px = 1280;
constexpr int kThumbnailHeight_px = 96, kMaxThumbnailHeight_px = 400;

// A request for a picture, applied to the job.
struct PictureRequest {
    plan::Job job;
    colour::Illuminant light;
    render::PreviewSettings settings;
    std::optional<Overlay> overlay;
    std::size_t overlay_first = 0, overlay_last = 0;
};

// Removes the expanded coats of the plan's coats in the list.
void hide_coats(PictureRequest& request, const PreparedPlan& prepared, const Json& indices) {
    std::vector<std::size_t> hidden;
    for (const Json& index : indices)
        if (index.is_number_unsigned() && index.get<std::size_t>() < prepared.plan->coats.size())
            hidden.push_back(index.get<std::size_t>());
    std::sort(hidden.rbegin(), hidden.rend());
    hidden.erase(std::unique(hidden.begin(), hidden.end()), hidden.end());
    for (const std::size_t index : hidden) {
        const PreparedPlan::CoatRange range = prepared.expanded_coats(index);
        auto& coats = request.job.coats;
        if (range.last > coats.size()) continue;  // after the last coat shown
        coats.erase(coats.begin() + static_cast<std::ptrdiff_t>(range.first),
                    coats.begin() + static_cast<std::ptrdiff_t>(range.last));
    }
}

std::optional<ApiResponse> read_view(const PreparedPlan& prepared, const ApiRequest& api_request,
                                     PictureRequest& request) {
    const std::optional<colour::Illuminant> light = light_for(prepared, api_request.text("light"));
    if (!light) return error_response(400, fmt::format("no light named '{}'", api_request.text("light")));
    request.light = *light;
    if (const std::string angle = api_request.text("angle"); !angle.empty()) {
        Diagnostics ignored;
        const auto degrees = read_quantity(angle, {}, units_of<Degrees>(), ignored);
        if (!degrees || *degrees < -15 || *degrees > 110)
            return error_response(400, fmt::format("'{}' is not an angle", angle), "allowed: −15° to 110°");
        request.settings.viewing = render::goniometer_viewing(Degrees{*degrees});
    }
    const std::string shape = api_request.text("shape", "panel");
    const auto& shapes = Names<render::DisplayShape>::list;
    const auto known =
        std::find_if(shapes.begin(), shapes.end(), [&](const auto& entry) { return entry.second == shape; });
    if (known == shapes.end()) return error_response(400, fmt::format("no shape named '{}'", shape));
    if (known->first != render::DisplayShape::panel) {
        request.job = render::with_shape(request.job, known->first);
        request.settings.viewing = render::shape_viewing();
    }
    return std::nullopt;
}

std::optional<ApiResponse> read_overlay(const PreparedPlan& prepared, const ApiRequest& api_request,
                                        PictureRequest& request) {
    const std::string name = api_request.text("overlay");
    if (name.empty()) return std::nullopt;
    request.overlay = parse_overlay(name);
    if (!request.overlay)
        return error_response(400, fmt::format("no overlay named '{}'", name),
                              "overlays: film, defects, graininess");
    request.overlay_last = request.job.coats.size();
    if (const auto coat = api_request.integer("coat");
        coat && *coat >= 0 && static_cast<std::size_t>(*coat) < prepared.plan->coats.size()) {
        const PreparedPlan::CoatRange range = prepared.expanded_coats(static_cast<std::size_t>(*coat));
        request.overlay_first = std::min(range.first, request.job.coats.size());
        request.overlay_last = std::min(range.last, request.job.coats.size());
    }
    return std::nullopt;
}

std::optional<ApiResponse> read_picture_request(const PreparedPlan& prepared, const ApiRequest& api_request,
                                                PictureRequest& request) {
    request.job = *prepared.job;
    request.settings.longest_px = static_cast<int>(
        std::clamp<long>(api_request.integer("size").value_or(kDefaultSize_px), kMinSize_px, kMaxPicture_px));
    if (const auto after = api_request.integer("after"); after && *after >= 0) {
        const auto plan_coats = std::min(static_cast<std::size_t>(*after), prepared.plan->coats.size());
        request.job.coats.resize(plan_coats == 0 ? 0 : prepared.expanded_coats(plan_coats - 1).last);
    }
    if (auto failure = read_overlay(prepared, api_request, request)) return failure;
    if (const auto hidden = api_request.body.find("hidden");
        hidden != api_request.body.end() && hidden->is_array())
        hide_coats(request, prepared, *hidden);
    if (api_request.boolean("without_clear")) request.job = render::without_clear(std::move(request.job));
    return read_view(prepared, api_request, request);
}

std::string percent_encoded(const std::string& text) {
    const std::unique_ptr<char, decltype(&g_free)> escaped(g_uri_escape_string(text.c_str(), " ", FALSE),
                                                           &g_free);
    return escaped.get();
}

render::PngMetadata png_metadata_for(bool wide) {
    static const colour::OutputProfile srgb = colour::OutputProfile::srgb(),
                                       p3 = colour::OutputProfile::display_p3();
    const colour::OutputProfile& profile = wide ? p3 : srgb;
    render::PngMetadata notes;
    notes.icc = profile.icc_bytes();
    notes.icc_name = profile.name();
    return notes;
}

ApiResponse superseded_response() {
    return json_response({{"superseded", true}, {"error", "cancelled"}}, 409);
}

}  // namespace

Pictures::PageRenderer::PageRenderer()
    : full(colour::OutputProfile::srgb()),
      draft(colour::OutputProfile::srgb()),
      wide(colour::OutputProfile::display_p3()) {}

// Beyond kMaxPages the renderer that was used longest ago is dropped.
std::shared_ptr<Pictures::PageRenderer> Pictures::renderer_of(const std::string& page) {
    const std::lock_guard lock(mutex_);
    std::shared_ptr<PageRenderer>& renderer = renderers_[page];
    if (!renderer) renderer = std::make_shared<PageRenderer>();
    renderer->last_use = ++use_count_;
    std::shared_ptr<PageRenderer> found = renderer;
    if (renderers_.size() > kMaxPages)
        renderers_.erase(std::min_element(
            renderers_.begin(), renderers_.end(),
            [](const auto& a, const auto& b) { return a.second->last_use < b.second->last_use; }));
    return found;
}

ApiResponse Pictures::picture(PlanCache& plan_cache, const ApiRequest& api_request) {
    const auto begin = std::chrono::steady_clock::now();
    const std::shared_ptr<PageRenderer> renderer = renderer_of(api_request.page);
    // Requests may arrive in another order than they were sent in; pages that count them say which is the
    // newest.
    const std::uint64_t sequence = api_request.sequence ? *api_request.sequence : ++renderer->newest_sequence;
    for (std::uint64_t newest = renderer->newest_sequence; newest < sequence;)
        if (renderer->newest_sequence.compare_exchange_weak(newest, sequence)) break;
    const auto newer = [&] { return renderer->newest_sequence > sequence; };
    const std::lock_guard rendering(renderer->mutex);
    if (newer()) return superseded_response();
    const std::shared_ptr<const PreparedPlan> prepared = plan_cache.prepare(api_request);
    if (!prepared->job) return invalid_plan_response(*prepared);
    PictureRequest request;
    if (auto failure = read_picture_request(*prepared, api_request, request)) return *std::move(failure);
    request.settings.exposure =
        render::max_exposure_without_clipping(request.job, request.light, request.settings);
    const bool draft = api_request.boolean("draft");
    const render::Frame frame =
        render::panel_frame(request.job.panel, request.settings.longest_px, request.settings.margin);
    std::string note;
    if (request.settings.exposure < 1)
        note = fmt::format("shown at {:.2f} × its brightness, so that the flakes are not overexposed",
                           request.settings.exposure);
    const bool wide = api_request.boolean("wide_gamut") && !draft && !request.overlay;
    render::IncrementalRenderer& incremental = draft  ? renderer->draft
                                               : wide ? renderer->wide
                                                      : renderer->full;
    const render::Preview* preview = incremental.update(request.job, request.light, request.settings, newer);
    if (!preview) return superseded_response();
    Picture picture = preview->picture;
    if (request.overlay) {
        OverlayPicture result = draw_overlay(std::move(picture), *request.overlay, request.job, request.light,
                                             frame, request.overlay_first, request.overlay_last);
        picture = std::move(result.picture);
        note = result.note;
    }
    ApiResponse response;
    response.type = "image/png";
    response.body = render::png_bytes(picture, png_metadata_for(wide));
    const std::chrono::duration<double, std::milli> duration = std::chrono::steady_clock::now() - begin;
    response.headers = {{"Fadewright-Frame", fmt::format("{} {} {} {} {}", frame.left_mm, frame.top_mm,
                                                         frame.mm_per_px, frame.width, frame.height)},
                        {"Fadewright-Duration", fmt::format("{:.1f}", duration.count())},
                        {"Fadewright-Note", percent_encoded(note)}};
    return response;
}

// The panel after no coat, after the plan's first coat, and so on.
ApiResponse Pictures::thumbnails(PlanCache& plan_cache, const ApiRequest& api_request, Task& task) {
    const std::shared_ptr<const PreparedPlan> prepared = plan_cache.prepare(api_request);
    if (!prepared->job) return invalid_plan_response(*prepared);
    const std::optional<colour::Illuminant> light = light_for(*prepared, api_request.text("light"));
    if (!light) return error_response(400, fmt::format("no light named '{}'", api_request.text("light")));
    const plan::Job& job = *prepared->job;
    const double height = static_cast<double>(std::clamp<long>(
        api_request.integer("height").value_or(kThumbnailHeight_px), kMinSize_px, kMaxThumbnailHeight_px));
    render::PreviewSettings settings;
    settings.margin = Millimetres{0.0};
    const double aspect_ratio = job.panel.width / job.panel.height;
    settings.longest_px =
        static_cast<int>(std::min<double>(kMaxThumbnailHeight_px * 2, height * std::max(1.0, aspect_ratio)));
    render::IncrementalRenderer incremental(colour::OutputProfile::srgb());  // reuses films of coats below
    Json list = Json::array();
    const std::size_t coats = prepared->plan->coats.size();
    for (std::size_t after = 0; after <= coats; ++after) {
        settings.coats = after == 0 ? 0 : prepared->expanded_coats(after - 1).last;
        const auto step = 1 / static_cast<double>(coats + 1), start = static_cast<double>(after) * step;
        const render::Preview* preview =
            incremental.update(job, *light, settings, task.progress().subrange(start, start + step));
        if (!preview) return cancelled_response();
        list.push_back(
            {{"after", after},
             {"name", after == 0 ? "ground" : prepared->plan->coats[after - 1].name},
             {"picture", "data:image/png;base64," + base64(render::png_bytes(preview->picture, {}))}});
    }
    return json_response({{"thumbnails", list}});
}

}  // namespace fadewright::serve
