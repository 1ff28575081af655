#include "views.h"

#include "fadewright/film/angled.h"
#include "fadewright/report/overlay.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace fadewright::app {
namespace {

constexpr std::array<const char*, 4> kLights{"day", "warm-lamp", "shop-tube", "white-led"};
constexpr double kFarthestTurn_deg = 35;
constexpr Seconds kRound{3.0};  // to and fro

std::vector<Picture> pictures_of(const Looked& looked, const std::vector<render::Viewing>& viewings,
                                 render::PreviewSettings& settings) {
    settings.exposure = render::exposure_without_glare(looked.job, looked.light, settings, viewings);
    std::vector<Picture> pictures;
    for (const render::Viewing& viewing : viewings) {
        settings.viewing = viewing;
        pictures.push_back(render::preview(looked.job, looked.light, looked.profile, settings).picture);
    }
    return pictures;
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

Picture angles_sheet(const Looked& looked) {
    std::vector<render::Viewing> viewings;
    std::vector<std::string> captions;
    for (const Degrees angle : film::kAspecular) {
        viewings.push_back(render::instrument(angle));
        captions.push_back(angle_words(angle.value));
    }
    render::PreviewSettings settings = looked.settings;
    settings.longest_px = panel_share(settings.longest_px);
    const std::vector<Picture> pictures = pictures_of(looked, viewings, settings);
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

NewFiles turning_files(const Looked& looked, int pictures, const std::string& out,
                       const render::PngNotes& notes) {
    std::vector<render::Viewing> viewings;
    for (int i = 0; i < pictures; ++i) {
        const double phase = 2 * std::numbers::pi * i / pictures;
        viewings.push_back(render::on_body(Degrees{kFarthestTurn_deg * std::sin(phase)}));
    }
    render::PreviewSettings settings = looked.settings;
    std::vector<std::string> frames;
    for (const Picture& picture : pictures_of(looked, viewings, settings))
        frames.push_back(render::png_bytes(picture, notes));
    const std::string stem = out.ends_with(".png") ? out.substr(0, out.size() - 4) : out;
    NewFiles files;
    for (std::size_t i = 0; i < frames.size(); ++i)
        files.emplace_back(fmt::format("{}-{:03}.png", stem, i + 1), frames[i]);
    files.emplace_back(out, render::moving_png_bytes(frames, Seconds{kRound.value / pictures}));
    return files;
}

}  // namespace fadewright::app
