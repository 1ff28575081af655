// The rows of a mix's sheet that show a mix with flakes at the viewing angles.

#include "fadewright/report/format.h"
#include "mix_flakes.h"

#include <fmt/core.h>

#include <array>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr double kLeft = 40, kRight = 1560, kLabel = 250;

struct OverGround {
    std::string name;
    colour::Lab ground;
    const film::MultiAngleColour FlakeAppearance::*appearance;
};

// One for each angle, so that reflections brighter than white keep their colour.
using Exposures = std::array<double, film::kAspecular.size()>;

Exposures exposures_of(const MixFlakes& flakes, const std::array<OverGround, 3>& grounds) {
    Exposures out;
    for (std::size_t i = 0; i < out.size(); ++i) {
        std::vector<colour::Lab> labs;
        for (const FlakeAppearance& appearance : flakes.drawdown.coats)
            for (const OverGround& over : grounds) labs.push_back((appearance.*over.appearance).labs[i]);
        out[i] = formulation::exposure_to_fit(labs);
    }
    return out;
}

std::size_t angle_index(Degrees aspecular) {
    std::size_t i = 0;
    while (film::kAspecular[i] != aspecular) ++i;
    return i;
}

std::string exposure_label(const Exposures& exposures) {
    std::string text;
    for (std::size_t i = 0; i < exposures.size(); ++i)
        if (exposures[i] < 1)
            text += fmt::format("{}{} to {:.0f} %", text.empty() ? "darkened to fit the screen: " : ", ",
                                angle_text(film::kAspecular[i]), 100 * exposures[i]);
    return text;
}

// Three swatches side by side on their ground: 15°, 45° and 110°.
void draw_cell(Canvas& canvas, double x, double y, double w, double h, const OverGround& over,
               const FlakeAppearance& appearance, const Exposures& exposures) {
    canvas.fill(x, y, w, h, display_rgb(over.ground));
    const double third = (w - 20) / kShownAngles.size();
    for (std::size_t a = 0; a < kShownAngles.size(); ++a) {
        const std::size_t i = angle_index(kShownAngles[a]);
        const double left = std::round(x + 10 + third * static_cast<double>(a)),
                     right = std::round(x + 10 + third * static_cast<double>(a + 1));
        canvas.fill(
            left, y + 10, right - left, h - 20,
            display_rgb(formulation::apply_exposure((appearance.*over.appearance).labs[i], exposures[i])));
    }
}

double draw_all_angles(Canvas& canvas, const MixReport& mix_report, const Exposures& exposures, double y) {
    const std::size_t count = mix_report.flakes->drawdown.coats.size();
    const film::MultiAngleColour& appearance = mix_report.flakes->drawdown.coats.back().over_black;
    const double cell = (kRight - kLeft - kLabel) / film::kAspecular.size();
    constexpr double kRow = 120;
    canvas.text_to_fit(kLeft, y + 40, kLabel - 10,
                       fmt::format("{} {} over black", count, count == 1 ? "coat" : "coats"), {22});
    canvas.text(kLeft, y + 74, fmt::format("flop index {:.1f}", appearance.flop), {20});
    for (std::size_t i = 0; i < film::kAspecular.size(); ++i) {
        const double x = kLeft + kLabel + cell * static_cast<double>(i);
        const colour::Lab lab = formulation::apply_exposure(appearance.labs[i], exposures[i]);
        canvas.fill(x, y, cell - 4, kRow, display_rgb(lab));
        const Rgb ink = contrasting_ink(lab);
        canvas.text(x + 12, y + 24, angle_text(film::kAspecular[i]), {20, ink, Align::left, Weight::bold});
        canvas.text(x + 12, y + 60, lab_text(appearance.labs[i]), {19, ink});
        canvas.text(x + 12, y + 94, fmt::format("chroma {:.1f}", chroma_of(appearance.labs[i])), {19, ink});
    }
    return y + kRow + 24;
}

}  // namespace

double draw_flakes(Canvas& canvas, const MixReport& mix_report, double y) {
    const std::array<OverGround, 3> grounds{
        OverGround{"black", {7, 0, 0}, &FlakeAppearance::over_black},
        OverGround{"white", {94, 0, 0}, &FlakeAppearance::over_white},
        OverGround{mix_report.ground_name, mix_report.ground, &FlakeAppearance::over_ground}};
    const Exposures exposures = exposures_of(*mix_report.flakes, grounds);
    const std::vector<FlakeAppearance>& coats = mix_report.flakes->drawdown.coats;
    const double cell = (kRight - kLeft - kLabel) / static_cast<double>(coats.size());
    constexpr double kRow = 92;
    y += 10;
    canvas.text(kLeft, y, "by viewing angle", {24, kInk, Align::left, Weight::bold});
    canvas.text(kLeft + kLabel, y, "each swatch at 15° | 45° | 110° aspecular, light at 45°", {20});
    y += 28;
    for (const OverGround& over : grounds) {
        canvas.text_to_fit(kLeft, y + kRow / 2 - 4, kLabel - 10, "over " + over.name, {22});
        for (std::size_t n = 0; n < coats.size(); ++n)
            draw_cell(canvas, kLeft + kLabel + cell * static_cast<double>(n), y, cell - 4, kRow - 4, over,
                      coats[n], exposures);
        y += kRow;
    }
    canvas.text(kLeft, y + 16, fmt::format("flakes per {}", mix_report.units.area_unit_name()),
                {20, kFaintInk});
    for (std::size_t n = 0; n < coats.size(); ++n)
        canvas.text_to_fit(
            kLeft + kLabel + cell * static_cast<double>(n) + 6, y + 16, cell - 12,
            fmt::format("{}, {}", flake_count_text(mix_report.units.per_area_unit(coats[n].per_cm2)),
                        evenness_label(coats[n])),
            {20, kFaintInk});
    y = draw_all_angles(canvas, mix_report, exposures, y + 50);
    canvas.text_to_fit(kLeft, y, kRight - kLeft, exposure_label(exposures), {18, kFaintInk});
    return y + 40;
}

}  // namespace fadewright::report
