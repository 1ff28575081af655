// Pictures for the page: of the panel, with overlays, and small ones of every step.

#include "fadewright/app/requests_schema.h"
#include "fadewright/base/strings.h"
#include "fadewright/colour/profile.h"
#include "fadewright/render/display_shape.h"
#include "fadewright/render/frame.h"
#include "fadewright/render/png.h"
#include "fadewright/report/format.h"
#include "page_model.h"
#include "page_overlay.h"
#include "page_renderers.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::app {
namespace {

constexpr int kMinSize_px = 32;
constexpr int kMaxThumbnailHeight_px = 400;

// A request for a picture, applied to the job.
struct PictureJob {
    plan::Job job;
    colour::Illuminant light;
    render::PreviewSettings settings;
    std::optional<Overlay> overlay;
    std::size_t overlay_first = 0, overlay_last = 0;
};

// Removes the expanded coats of the plan's coats in the list.
void hide_coats(PictureJob& shown, const PreparedPlan& prepared, std::vector<std::size_t> hidden) {
    std::erase_if(hidden, [&](std::size_t index) { return index >= prepared.plan->coats.size(); });
    std::sort(hidden.rbegin(), hidden.rend());
    hidden.erase(std::unique(hidden.begin(), hidden.end()), hidden.end());
    for (const std::size_t index : hidden) {
        const PreparedPlan::CoatRange range = prepared.expanded_coats(index);
        auto& coats = shown.job.coats;
        if (range.last > coats.size()) continue;  // after the last coat shown
        coats.erase(coats.begin() + static_cast<std::ptrdiff_t>(range.first),
                    coats.begin() + static_cast<std::ptrdiff_t>(range.last));
    }
}

Check set_view(PictureJob& shown, const PreparedPlan& prepared, const PictureRequest& request) {
    const Attempt<colour::Illuminant> light = find_light(prepared, request.light);
    if (!light) return light.error();
    shown.light = light.value();
    if (!request.angle.empty()) {
        Diagnostics diagnostics;
        const auto degrees = read_quantity(request.angle, {}, units_of<Degrees>(), diagnostics);
        if (!degrees || *degrees < -15 || *degrees > 110)
            return usage_failure(fmt::format("'{}' is not an angle", request.angle), "allowed: −15° to 110°");
        shown.settings.viewing = render::goniometer_viewing(Degrees{*degrees});
    }
    const auto& shapes = Names<render::DisplayShape>::list;
    const auto known = std::find_if(shapes.begin(), shapes.end(),
                                    [&](const auto& entry) { return entry.second == request.shape; });
    if (known == shapes.end()) return usage_failure(fmt::format("no shape named '{}'", request.shape), "");
    if (known->first != render::DisplayShape::panel) {
        shown.job = render::with_shape(shown.job, known->first);
        shown.settings.viewing = render::shape_viewing();
    }
    return Success{};
}

Check set_overlay(PictureJob& shown, const PreparedPlan& prepared, const PictureRequest& request) {
    if (request.overlay.empty()) return Success{};
    shown.overlay = parse_overlay(request.overlay);
    if (!shown.overlay)
        return usage_failure(fmt::format("no overlay named '{}'", request.overlay),
                             "overlays: film, defects, graininess");
    shown.overlay_last = shown.job.coats.size();
    if (request.coat && *request.coat < prepared.plan->coats.size()) {
        const PreparedPlan::CoatRange range = prepared.expanded_coats(*request.coat);
        shown.overlay_first = std::min(range.first, shown.job.coats.size());
        shown.overlay_last = std::min(range.last, shown.job.coats.size());
    }
    return Success{};
}

Attempt<PictureJob> picture_job(const PreparedPlan& prepared, const PictureRequest& request) {
    PictureJob shown;
    shown.job = *prepared.job;
    shown.settings.longest_px = std::max(request.size_px, kMinSize_px);
    if (request.after) {
        const auto plan_coats = std::min(*request.after, prepared.plan->coats.size());
        shown.job.coats.resize(plan_coats == 0 ? 0 : prepared.expanded_coats(plan_coats - 1).last);
    }
    if (const Check done = set_overlay(shown, prepared, request); !done) return done.error();
    hide_coats(shown, prepared, request.hidden);
    if (request.without_clear) shown.job = render::without_clear(std::move(shown.job));
    if (const Check done = set_view(shown, prepared, request); !done) return done.error();
    shown.settings.exposure = render::max_exposure_without_clipping(shown.job, shown.light, shown.settings);
    return shown;
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

// Draws it with one of the renderers; a failure says that a newer request cancelled it.
Attempt<PagePicture> draw_picture(const PictureJob& shown, const PictureRequest& request,
                                  PageRenderer& renderer, const Progress& progress) {
    const bool wide = request.wide_gamut && !request.draft && !shown.overlay;
    render::IncrementalRenderer& incremental = request.draft ? renderer.draft
                                               : wide        ? renderer.wide
                                                             : renderer.full;
    const render::Preview* preview = incremental.update(shown.job, shown.light, shown.settings, progress);
    if (!preview) return cancelled_failure();
    const render::Frame frame =
        render::panel_frame(shown.job.panel, shown.settings.longest_px, shown.settings.margin);
    PagePicture drawn{{}, frame.left_mm, frame.top_mm, frame.mm_per_px, frame.width, frame.height, ""};
    if (shown.settings.exposure < 1)
        drawn.note = fmt::format("shown at {:.2f} × its brightness, so that the flakes are not overexposed",
                                 shown.settings.exposure);
    Picture pixels = preview->picture;
    if (shown.overlay) {
        OverlayPicture result = draw_overlay(std::move(pixels), *shown.overlay, shown.job, shown.light, frame,
                                             shown.overlay_first, shown.overlay_last);
        pixels = std::move(result.picture);
        drawn.note = result.note;
    }
    drawn.picture = artefact("picture.png", render::png_bytes(pixels, png_metadata_for(wide)));
    return drawn;
}

}  // namespace

PageRenderer::PageRenderer()
    : full(colour::OutputProfile::srgb()),
      draft(colour::OutputProfile::srgb()),
      wide(colour::OutputProfile::display_p3()) {}

std::shared_ptr<PageRenderer> PageRenderers::renderer_of(const std::string& page) {
    const std::lock_guard lock(mutex_);
    Entry& entry = renderers_[page];
    if (!entry.renderer) entry.renderer = std::make_shared<PageRenderer>();
    entry.last_use = ++use_count_;
    std::shared_ptr<PageRenderer> found = entry.renderer;
    if (renderers_.size() > kMaxPages)
        renderers_.erase(std::min_element(
            renderers_.begin(), renderers_.end(),
            [](const auto& a, const auto& b) { return a.second.last_use < b.second.last_use; }));
    return found;
}

Result<PagePicture, Failure> picture(Session& session, const PictureRequest& request) {
    const std::shared_ptr<PageRenderer> renderer = session.page_renderers().renderer_of(request.page);
    // Requests may arrive in another order than they were sent in; pages that count them say which is the
    // newest.
    const std::uint64_t sequence = request.sequence ? *request.sequence : ++renderer->newest_sequence;
    for (std::uint64_t newest = renderer->newest_sequence; newest < sequence;)
        if (renderer->newest_sequence.compare_exchange_weak(newest, sequence)) break;
    const auto newer = [&] { return renderer->newest_sequence > sequence; };
    const std::lock_guard rendering(renderer->mutex);
    if (newer()) return cancelled_failure();
    const auto prepared = page_plan(session, request);
    if (!prepared) return prepared.error();
    const Attempt<PictureJob> shown = picture_job(*prepared.value(), request);
    if (!shown) return shown.error();
    return draw_picture(shown.value(), request, *renderer, {.is_cancelled = newer});
}

Outcome thumbnails(Session& session, const ThumbnailsRequest& request) {
    const auto resolved = page_plan(session, request);
    if (!resolved) return failed(resolved.error(), true);
    const PreparedPlan& prepared = *resolved.value();
    const Attempt<colour::Illuminant> light = find_light(prepared, request.light);
    if (!light) return failed(light.error(), true);
    const plan::Job& job = *prepared.job;
    const double height = std::clamp(request.height_px, kMinSize_px, kMaxThumbnailHeight_px);
    render::PreviewSettings settings;
    settings.margin = Millimetres{0.0};
    const double aspect_ratio = job.panel.width / job.panel.height;
    settings.longest_px =
        static_cast<int>(std::min<double>(kMaxThumbnailHeight_px * 2, height * std::max(1.0, aspect_ratio)));
    render::IncrementalRenderer incremental(colour::OutputProfile::srgb());  // reuses films of coats below
    Json list = Json::array();
    const std::size_t coats = prepared.plan->coats.size();
    for (std::size_t after = 0; after <= coats; ++after) {
        settings.coats = after == 0 ? 0 : prepared.expanded_coats(after - 1).last;
        const auto step = 1 / static_cast<double>(coats + 1), start = static_cast<double>(after) * step;
        const render::Preview* preview =
            incremental.update(job, light.value(), settings, request.progress.subrange(start, start + step));
        if (!preview) return failed(cancelled_failure(), true);
        list.push_back(
            {{"after", after},
             {"name", after == 0 ? "ground" : prepared.plan->coats[after - 1].name},
             {"picture", "data:image/png;base64," + base64(render::png_bytes(preview->picture, {}))}});
    }
    return json_outcome({{"thumbnails", list}});
}

}  // namespace fadewright::app
