#include "views.h"

#include "fadewright/base/files.h"
#include "fadewright/report/overlay.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace fadewright::app {
namespace {

constexpr std::array<double, 6> kAngles_deg{-15, 15, 25, 45, 75, 110};
constexpr std::array<const char*, 4> kLights{"day", "warm-lamp", "shop-tube", "white-led"};
constexpr double kFarthestTurn_deg = 35;
constexpr Seconds kRound{3.0};  // to and fro

// The picture that all looks can share without glare.
double common_exposure(const Looked& looked, const std::vector<render::Viewing>& viewings) {
    double exposure = 1;
    render::PreviewSettings settings = looked.settings;
    for (const render::Viewing& viewing : viewings) {
        settings.viewing = viewing;
        exposure = std::min(exposure, render::exposure_without_glare(looked.job, looked.light, settings));
    }
    return exposure;
}

std::string angle_words(double deg) {
    const char* place = deg < 0     ? "beyond the shine"
                        : deg <= 25 ? "near the shine"
                        : deg <= 45 ? "straight on"
                                    : "far from the shine";
    return fmt::format("{:.0f}°  {}", deg, place);
}

std::string exposure_words(double exposure) {
    return exposure < 1 ? fmt::format("  ·  shown {:.2f} times as bright as it is", exposure) : "";
}

int panel_share(int longest_px) { return std::max(16, longest_px / 3); }

}  // namespace

plan::Job before_clear(plan::Job job) {
    while (!job.coats.empty() && job.coats.back().clear) job.coats.pop_back();
    job.surface = plan::Surface::matt;
    return job;
}

Picture angles_sheet(const Looked& looked) {
    std::vector<render::Viewing> viewings;
    for (const double angle : kAngles_deg) viewings.push_back(render::instrument(Degrees{angle}));
    render::PreviewSettings settings = looked.settings;
    settings.longest_px = panel_share(settings.longest_px);
    settings.exposure = common_exposure(looked, viewings);
    std::vector<Picture> pictures;
    std::vector<std::string> captions;
    for (std::size_t i = 0; i < viewings.size(); ++i) {
        settings.viewing = viewings[i];
        pictures.push_back(render::preview(looked.job, looked.light, looked.profile, settings).picture);
        captions.push_back(angle_words(kAngles_deg[i]));
    }
    return report::side_by_side(pictures, captions, looked.job.title + exposure_words(settings.exposure));
}

Result<Picture> lights_sheet(const Looked& looked, plan::Shelf& shelf) {
    render::PreviewSettings settings = looked.settings;
    settings.longest_px = panel_share(settings.longest_px);
    settings.exposure = render::exposure_without_glare(looked.job, looked.light, settings);
    std::vector<Picture> pictures;
    std::vector<std::string> captions;
    for (const char* name : kLights) {
        Diagnostics diagnostics;
        const colour::Light* light = shelf.light(name, diagnostics);
        if (!light) return Refusal{fmt::format("the shelf's light '{}' cannot be used", name)};
        pictures.push_back(render::preview(looked.job, *light, looked.profile, settings).picture);
        captions.push_back(light->title);
    }
    return report::side_by_side(pictures, captions, looked.job.title + exposure_words(settings.exposure), 2);
}

Result<std::vector<std::string>> write_turning(const Looked& looked, int pictures, const std::string& out,
                                               const render::PngNotes& notes) {
    std::vector<render::Viewing> viewings;
    for (int i = 0; i < pictures; ++i) {
        const double phase = 2 * std::numbers::pi * i / pictures;
        viewings.push_back(render::on_body(Degrees{kFarthestTurn_deg * std::sin(phase)}));
    }
    render::PreviewSettings settings = looked.settings;
    settings.exposure = common_exposure(looked, viewings);
    std::vector<Picture> frames;
    for (const render::Viewing& viewing : viewings) {
        settings.viewing = viewing;
        frames.push_back(render::preview(looked.job, looked.light, looked.profile, settings).picture);
    }
    const std::string stem = out.ends_with(".png") ? out.substr(0, out.size() - 4) : out;
    std::vector<std::string> written;
    const auto write = [&](const std::string& name, const std::string& bytes) {
        written.push_back(name);
        return write_whole(name, bytes);
    };
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const Result<Done> done =
            write(fmt::format("{}-{:03}.png", stem, i + 1), render::png_bytes(frames[i], notes));
        if (!done) return done.refusal();
    }
    const Seconds each{kRound.value / pictures};
    const Result<Done> done = write(out, render::moving_png_bytes(frames, each, notes));
    if (!done) return done.refusal();
    return written;
}

}  // namespace fadewright::app
