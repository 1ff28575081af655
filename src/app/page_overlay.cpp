#include "page_overlay.h"

#include "fadewright/assess/defects.h"
#include "fadewright/assess/maps.h"
#include "fadewright/base/parallel.h"
#include "fadewright/report/overlay.h"
#include "fadewright/report/phrases_defects.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <functional>

namespace fadewright::app {
namespace {

constexpr double kOverlayStrength = 0.7;     // opacity of the overlay at most
constexpr double kMinGraininessScale_L = 1;  // a shorter scale would exaggerate invisible graininess

constexpr double kCheckSeverity = 1, kProblemSeverity = 2;  // scores of render::DefectMap

using ShareAt = std::function<double(int x, int y)>;  // 0 to 1

// The picture turns grey under the overlay, so that the overlay's colours are not mixed with the paint's.
void blend_overlay(Picture& picture, const plan::Job& job, const render::Frame& frame, double min_opacity,
                   const ShareAt& share_at) {
    parallel_for(static_cast<std::size_t>(picture.height), [&](std::size_t row) {
        const int y = static_cast<int>(row);
        for (int x = 0; x < picture.width; ++x) {
            if (!job.panel.inside(frame.x_mm(x), frame.y_mm(y))) continue;
            const double share = std::clamp(share_at(x, y), 0.0, 1.0);
            // Fully opaque from the middle of the scale up; below it fades out quickly.
            const double opacity = std::pow(std::min(1.0, 2 * share), 2);
            const double t = std::max(min_opacity, opacity) * kOverlayStrength;
            const report::Rgb colour = report::colormap(share);
            std::uint8_t* p = picture.pixel(x, y);
            const double grey = 0.2126 * p[0] + 0.7152 * p[1] + 0.0722 * p[2];
            const std::uint8_t overlay[] = {colour.r, colour.g, colour.b};
            for (int c = 0; c < 3; ++c) {
                const double base = min_opacity > 0 ? grey : static_cast<double>(p[c]);
                p[c] = static_cast<std::uint8_t>(std::lround((1 - t) * base + t * overlay[c]));
            }
        }
    });
}

}  // namespace

std::optional<Overlay> parse_overlay(const std::string& name) {
    if (name == "film") return Overlay::film;
    if (name == "defects") return Overlay::defects;
    if (name == "graininess") return Overlay::graininess;
    return std::nullopt;
}

OverlayPicture draw_overlay(Picture picture, Overlay overlay, const plan::Job& job,
                            const colour::Illuminant& light, const render::Frame& frame, std::size_t first,
                            std::size_t last) {
    if (overlay == Overlay::defects) {
        const assess::Defects found = assess::find_defects(job);
        const assess::DefectMap& map = found.map;
        blend_overlay(picture, job, frame, 0, [&](int x, int y) {
            const double px = (frame.x_mm(x) - map.frame.left_mm) / map.frame.mm_per_px,
                         py = (map.frame.top_mm - frame.y_mm(y)) / map.frame.mm_per_px;
            const int ix = std::clamp(static_cast<int>(px), 0, map.scores.width - 1),
                      iy = std::clamp(static_cast<int>(py), 0, map.scores.height - 1);
            const float* kinds = map.scores.pixel(ix, iy);  // one score per kind of defect
            return *std::max_element(kinds, kinds + map.scores.channels) / kProblemSeverity;
        });
        const auto defect_count = report::significant_defects(found.list).size();
        return {std::move(picture),
                defect_count == 0
                    ? "no problems found"
                    : fmt::format("{} = problem, {} = risk; paler = milder", report::colormap_label(1),
                                  report::colormap_label(kCheckSeverity / kProblemSeverity))};
    }
    Image<float> sum(frame.width, frame.height, 1);
    double maximum = 0;
    const auto add = [&](const assess::PanelMap& map) {
        for (std::size_t i = 0; i < sum.samples.size(); ++i) sum.samples[i] += map.values.samples[i];
    };
    if (overlay == Overlay::graininess) {
        const assess::PanelMap map = assess::grain_map(job, light, frame);
        add(map);
        maximum = std::max(kMinGraininessScale_L, map.max);
    } else {
        for (std::size_t c = first; c < last; ++c) add(assess::film_map(job, c, frame));
        for (int y = 0; y < frame.height; ++y)
            for (int x = 0; x < frame.width; ++x)
                if (job.panel.inside(frame.x_mm(x), frame.y_mm(y)))
                    maximum = std::max(maximum, static_cast<double>(*sum.pixel(x, y)));
    }
    blend_overlay(picture, job, frame, 1, [&](int x, int y) {
        return maximum > 0 ? static_cast<double>(*sum.pixel(x, y)) / maximum : 0;
    });
    return {std::move(picture), overlay == Overlay::graininess
                                    ? fmt::format("graininess, 0 to {:.1f} L*", maximum)
                                    : "dry film, " + job.units.range(Micrometres{0.0}, Micrometres{maximum})};
}

}  // namespace fadewright::app
