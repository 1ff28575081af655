#include "preview_views.h"

#include "fadewright/film/multi_angle.h"
#include "fadewright/report/overlay.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace fadewright::app {
namespace {

constexpr std::array<const char*, 4> kLights{plan::kDefaultLight, "incandescent", "fluorescent", "white-led"};
constexpr double kMaxTurn_deg = 35;
constexpr Seconds kTurnPeriod{3.0};  // back and forth

std::vector<Picture> render_views(const ViewContext& context, const std::vector<render::Viewing>& viewings,
                                  render::PreviewSettings& settings) {
    settings.exposure = render::max_exposure_without_clipping(context.job, context.light, settings, viewings);
    std::vector<Picture> pictures;
    for (const render::Viewing& viewing : viewings) {
        settings.viewing = viewing;
        pictures.push_back(render::preview(context.job, context.light, context.profile, settings).picture);
    }
    return pictures;
}

std::string exposure_label(double exposure) {
    return exposure < 1 ? fmt::format("  ·  darkened to {:.0f} % to fit the screen", 100 * exposure) : "";
}

int panel_size_px(int longest_px) { return std::max(16, longest_px / 3); }

}  // namespace

std::string angle_label(Degrees aspecular) {
    const double deg = aspecular.value;
    const char* name = deg == 15 ? " near-specular" : deg == 45 ? " face" : deg == 110 ? " flop" : "";
    return fmt::format("{}{:.0f}°{}", deg < 0 ? "−" : "", std::abs(deg), name);
}

Picture angles_sheet(const ViewContext& context) {
    std::vector<render::Viewing> viewings;
    std::vector<std::string> captions;
    for (const Degrees angle : film::kAspecular) {
        viewings.push_back(render::goniometer_viewing(angle));
        captions.push_back(angle_label(angle));
    }
    render::PreviewSettings settings = context.settings;
    settings.longest_px = panel_size_px(settings.longest_px);
    const std::vector<Picture> pictures = render_views(context, viewings, settings);
    return report::contact_sheet(pictures, captions, context.job.title + exposure_label(settings.exposure));
}

Attempt<Picture> lights_sheet(const ViewContext& context, plan::Library library) {
    render::PreviewSettings settings = context.settings;
    settings.longest_px = panel_size_px(settings.longest_px);
    settings.exposure = render::max_exposure_without_clipping(context.job, context.light, settings);
    std::vector<Picture> pictures;
    std::vector<std::string> captions;
    for (const char* name : kLights) {
        Diagnostics diagnostics;
        const colour::Illuminant* light = library.light(name, diagnostics);
        if (!light) return system_failure({fmt::format("cannot use light '{}' of the library", name)});
        pictures.push_back(render::preview(context.job, *light, context.profile, settings).picture);
        captions.push_back(light->title);
    }
    return report::contact_sheet(pictures, captions, context.job.title + exposure_label(settings.exposure),
                                 2);
}

std::vector<Artefact> turntable_files(const ViewContext& context, int pictures, const std::string& out,
                                      const render::PngMetadata& notes) {
    std::vector<render::Viewing> viewings;
    for (int i = 0; i < pictures; ++i) {
        const double phase = 2 * std::numbers::pi * i / pictures;
        viewings.push_back(render::shape_viewing(Degrees{kMaxTurn_deg * std::sin(phase)}));
    }
    render::PreviewSettings settings = context.settings;
    std::vector<std::string> frames;
    for (const Picture& picture : render_views(context, viewings, settings))
        frames.push_back(render::png_bytes(picture, notes));
    const std::string stem = out.ends_with(".png") ? out.substr(0, out.size() - 4) : out;
    std::vector<Artefact> files;
    for (std::size_t i = 0; i < frames.size(); ++i)
        files.push_back(artefact(fmt::format("{}-{:03}.png", stem, i + 1), frames[i]));
    files.push_back(artefact(out, render::apng_bytes(frames, Seconds{kTurnPeriod.value / pictures})));
    return files;
}

}  // namespace fadewright::app
