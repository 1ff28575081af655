#include "veil.h"

#include "fadewright/base/parallel.h"
#include "fadewright/render/faults.h"
#include "fadewright/render/maps.h"
#include "fadewright/report/overlay.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <functional>

namespace fadewright::serve {
namespace {

constexpr double kStrength = 0.7;    // how much of the veil's own colour shows
constexpr double kLeastGrain_L = 1;  // a scale that ends below would make something of nothing

constexpr double kMayGoWrong = 1, kGoesWrong = 2;  // severities (render/faults.h)

using ShareAt = std::function<double(int x, int y)>;  // 0 to 1

// Grey where the veil lies, so that its own colours are read and not mixed with the paint's.
void lay_veil(Picture& picture, const plan::Job& job, const render::Frame& frame, double everywhere,
              const ShareAt& share_at) {
    for_each_index(static_cast<std::size_t>(picture.height), [&](std::size_t row) {
        const int y = static_cast<int>(row);
        for (int x = 0; x < picture.width; ++x) {
            if (!job.panel.inside(frame.x_mm(x), frame.y_mm(y))) continue;
            const double share = std::clamp(share_at(x, y), 0.0, 1.0);
            // Half way up the scale it lies fully; below it thins out quickly.
            const double lies = std::pow(std::min(1.0, 2 * share), 2);
            const double t = std::max(everywhere, lies) * kStrength;
            const report::Rgb colour = report::ramp(share);
            std::uint8_t* p = picture.pixel(x, y);
            const double grey = 0.2126 * p[0] + 0.7152 * p[1] + 0.0722 * p[2];
            const std::uint8_t veil[] = {colour.r, colour.g, colour.b};
            for (int c = 0; c < 3; ++c) {
                const double below = everywhere > 0 ? grey : static_cast<double>(p[c]);
                p[c] = static_cast<std::uint8_t>(std::lround((1 - t) * below + t * veil[c]));
            }
        }
    });
}

}  // namespace

std::optional<Veil> veil_called(const std::string& name) {
    if (name == "film") return Veil::film;
    if (name == "faults") return Veil::faults;
    if (name == "grain") return Veil::grain;
    return std::nullopt;
}

Veiled veiled(Picture picture, Veil veil, const plan::Job& job, const colour::Light& light,
              const render::Frame& frame, std::size_t first, std::size_t last) {
    if (veil == Veil::faults) {
        const render::Faults found = render::found_faults(job);
        const render::FaultMap& map = found.map;
        lay_veil(picture, job, frame, 0, [&](int x, int y) {
            const double px = (frame.x_mm(x) - map.frame.left_mm) / map.frame.mm_per_px,
                         py = (map.frame.top_mm - frame.y_mm(y)) / map.frame.mm_per_px;
            const int ix = std::clamp(static_cast<int>(px), 0, map.severity.width - 1),
                      iy = std::clamp(static_cast<int>(py), 0, map.severity.height - 1);
            const float* kinds = map.severity.pixel(ix, iy);  // of every kind of fault
            return *std::max_element(kinds, kinds + map.severity.channels) / kGoesWrong;
        });
        const auto pressing = report::pressing(found.list).size();
        return {std::move(picture),
                pressing == 0
                    ? "nothing to watch anywhere"
                    : fmt::format("{} where something goes wrong, {} where it may, fainter the less",
                                  report::ramp_words(1), report::ramp_words(kMayGoWrong / kGoesWrong))};
    }
    Image<float> sum(frame.width, frame.height, 1);
    double most = 0;
    const auto add = [&](const render::PanelMap& map) {
        for (std::size_t i = 0; i < sum.samples.size(); ++i) sum.samples[i] += map.values.samples[i];
    };
    if (veil == Veil::grain) {
        const render::PanelMap map = render::grain_map(job, light, frame);
        add(map);
        most = std::max(kLeastGrain_L, map.most);
    } else {
        for (std::size_t c = first; c < last; ++c) add(render::film_map(job, c, frame));
        for (int y = 0; y < frame.height; ++y)
            for (int x = 0; x < frame.width; ++x)
                if (job.panel.inside(frame.x_mm(x), frame.y_mm(y)))
                    most = std::max(most, static_cast<double>(*sum.pixel(x, y)));
    }
    lay_veil(picture, job, frame, 1,
             [&](int x, int y) { return most > 0 ? static_cast<double>(*sum.pixel(x, y)) / most : 0; });
    return {std::move(picture), veil == Veil::grain
                                    ? fmt::format("grain, 0 to {:.1f} L*", most)
                                    : "dry film, " + job.units.range(Micrometres{0.0}, Micrometres{most})};
}

}  // namespace fadewright::serve
