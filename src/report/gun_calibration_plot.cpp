#include "fadewright/report/axes.h"
#include "fadewright/report/canvas.h"
#include "fadewright/report/gun_calibration_report.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr int kWidth = 1400;
constexpr double kLeft = 130, kRight = 1350, kTop = 150, kPlotHeight = 470, kBetween = 120;
constexpr double kDot_px = 5;
constexpr double kNoise = 0.04;  // of the highest film: values so little below 0 do not extend the axis

// Colours that stay apart for colour-blind readers. Source: [okabe2008].
constexpr Rgb kMeasured{0, 114, 178}, kFittedInk{213, 94, 0};

using Profile = std::vector<calibration::ProfileSample>;

Range heights(const Profile& profile) {
    Range y{0, 0.1};
    for (const calibration::ProfileSample& point : profile) {
        y.high = std::max(y.high, point.fitted_um);
        if (point.too_dark) continue;
        y.low = std::min(y.low, point.measured_um);
        y.high = std::max(y.high, point.measured_um);
    }
    if (y.low > -kNoise * y.high) y.low = 0;
    return y;
}

void draw_profile(Canvas& canvas, const Profile& profile, double top, std::string_view x_label,
                  DisplayUnits units) {
    const double from = profile.front().at_mm, to = profile.back().at_mm;
    const Axes axes =
        make_axes({kLeft, kRight, top, top + kPlotHeight}, {from, std::max(to, from + 1)}, heights(profile),
                  {units.unit_size<Millimetres>(), units.unit_size<Micrometres>()});
    draw_axes(canvas, axes, fmt::format("{} {}", units.length_unit_plural(), x_label),
              fmt::format("wet film, {}", units.unit_name<Micrometres>()));
    std::vector<std::pair<double, double>> fitted;
    for (const calibration::ProfileSample& point : profile) {
        fitted.push_back(axes.to_pixels(point.at_mm, point.fitted_um));
        if (point.too_dark) continue;
        const auto [x, y] = axes.to_pixels(point.at_mm, point.measured_um);
        canvas.fill(std::round(x - kDot_px / 2), std::round(y - kDot_px / 2), kDot_px, kDot_px, kMeasured);
    }
    canvas.line(fitted, kFittedInk, 3);
}

std::string figures(const calibration::GunCalibration& calibration, DisplayUnits units) {
    constexpr int kDigits = 4;
    const calibration::GunFit& fit = calibration.fit;
    const std::string size =
        fit.pattern == spray::Pattern::round
            ? "sigma " + units.round_to_digits(Millimetres{fit.sigma_mm.value}, kDigits)
            : fmt::format(
                  "fan {} × {}{}, taper {:.3g}", units.round_to_digits(calibration.gun.fan_width, kDigits),
                  units.round_to_digits(calibration.gun.fan_thickness, kDigits),
                  calibration.thickness_measured ? "" : " (thickness not measured)", fit.beta_across.value);
    return fmt::format("{}; {} × {:.1f} % at {}", size, units.round_to_digits(calibration.gun.flow, kDigits),
                       100 * calibration.gun.transfer_efficiency.value,
                       units.round_to_digits(calibration.gun.distance, kDigits));
}

}  // namespace

Picture gun_calibration_plot(const calibration::GunCalibration& calibration, DisplayUnits units) {
    const bool spot = !calibration.along.empty();
    const double second_top = kTop + kPlotHeight + kBetween;
    Canvas canvas(kWidth,
                  static_cast<int>(spot ? second_top + kPlotHeight + kBetween - 20 : second_top - 20));
    canvas.text_to_fit(kLeft, 44, kRight - kLeft, calibration.gun.title,
                       {30, kInk, Align::left, Weight::bold});
    canvas.text_to_fit(kLeft, 84, kRight - kLeft, figures(calibration, units), {20, kFaintInk});
    draw_legend_key(canvas, kLeft, 120, kMeasured, "measured");
    draw_legend_key(canvas, kLeft + 190, 120, kFittedInk, "fitted");
    if (!calibration.across.empty())
        draw_profile(canvas, calibration.across, kTop, "across the travel, from the centre of the region",
                     units);
    if (spot) draw_profile(canvas, calibration.along, second_top, "along the travel", units);
    return canvas.picture();
}

}  // namespace fadewright::report
