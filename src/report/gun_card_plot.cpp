#include "fadewright/report/axes.h"
#include "fadewright/report/canvas.h"
#include "fadewright/report/gun_card_report.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr int kWidth = 1400;
constexpr double kLeft = 130, kRight = 1350, kTop = 150, kPlotHeight = 470, kBetween = 120;
constexpr double kDot_px = 5;
constexpr double kNoise = 0.04;  // of the highest film: as far below nothing is not worth a scale of its own

// Colours that stay apart for colour-blind readers (Okabe & Ito 2008, Color Universal Design).
constexpr Rgb kMeasured{0, 114, 178}, kFittedInk{213, 94, 0};

using Profile = std::vector<plan::ProfilePlace>;

Extent heights(const Profile& profile) {
    Extent y{0, 0.1};
    for (const plan::ProfilePlace& place : profile) {
        y.high = std::max(y.high, place.fitted_um);
        if (place.too_dark) continue;
        y.low = std::min(y.low, place.measured_um);
        y.high = std::max(y.high, place.measured_um);
    }
    if (y.low > -kNoise * y.high) y.low = 0;
    return y;
}

void draw_profile(Canvas& canvas, const Profile& profile, double top, std::string_view x_words,
                  ShownUnits units) {
    const double from = profile.front().at_mm, to = profile.back().at_mm;
    const Axes axes = make_axes({kLeft, kRight, top, top + kPlotHeight}, {from, std::max(to, from + 1)},
                                heights(profile), {units.one<Millimetres>(), units.one<Micrometres>()});
    draw_axes(canvas, axes, fmt::format("{} {}", units.lengths(), x_words),
              fmt::format("wet film, {}", units.name<Micrometres>()));
    std::vector<std::pair<double, double>> fitted;
    for (const plan::ProfilePlace& place : profile) {
        fitted.push_back(axes.at(place.at_mm, place.fitted_um));
        if (place.too_dark) continue;
        const auto [x, y] = axes.at(place.at_mm, place.measured_um);
        canvas.fill(std::round(x - kDot_px / 2), std::round(y - kDot_px / 2), kDot_px, kDot_px, kMeasured);
    }
    canvas.line(fitted, kFittedInk, 3);
}

std::string figures(const plan::LearnedGun& learned, ShownUnits units) {
    constexpr int kDigits = 4;
    const spray::GunFit& fit = learned.fit;
    const std::string size =
        fit.pattern == spray::Pattern::round
            ? "sigma " + units.rounded(Millimetres{fit.sigma_mm.value}, kDigits)
            : fmt::format("fan {} x {}{}, taper {:.3g}", units.rounded(learned.gun.fan_width, kDigits),
                          units.rounded(learned.gun.fan_depth, kDigits),
                          learned.depth_measured ? "" : " (depth not measured)", fit.beta_across.value);
    return fmt::format("{}; {} x {:.1f} % at {}", size, units.rounded(learned.gun.flow, kDigits),
                       100 * learned.gun.transfer.value, units.rounded(learned.gun.distance, kDigits));
}

}  // namespace

Picture gun_card_plot(const plan::LearnedGun& learned, ShownUnits units) {
    const bool spot = !learned.along.empty();
    const double below = kTop + kPlotHeight + kBetween;
    Canvas canvas(kWidth, static_cast<int>(spot ? below + kPlotHeight + kBetween - 20 : below - 20));
    canvas.text_within(kLeft, 44, kRight - kLeft, learned.gun.title, {30, kInk, Align::left, Weight::bold});
    canvas.text_within(kLeft, 84, kRight - kLeft, figures(learned, units), {20, kFaintInk});
    draw_key(canvas, kLeft, 120, kMeasured, "measured");
    draw_key(canvas, kLeft + 190, 120, kFittedInk, "fitted");
    if (!learned.across.empty())
        draw_profile(canvas, learned.across, kTop, "across the travel, from the middle of the region", units);
    if (spot) draw_profile(canvas, learned.along, below, "along the travel", units);
    return canvas.picture();
}

}  // namespace fadewright::report
