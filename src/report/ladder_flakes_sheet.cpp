#include "fadewright/report/format.h"
#include "ladder_flakes.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace fadewright::report {
namespace {

constexpr double kMargin = 40, kLabel = 250, kCell = 138, kGap = 16, kRow = 132, kTop = 240;
constexpr std::size_t kGrounds = 4, kAngles = kShownAngles.size();
constexpr double kBlock = kCell * kAngles + kGap;

struct OverGround {
    std::string name;
    colour::Lab ground;
    const film::MultiAngleColour FlakeAppearance::*appearance;
};
using OverGrounds = std::array<OverGround, kGrounds>;
using Exposures = std::array<double, kAngles>;

Exposures exposures_of(const Ladder& ladder, const OverGrounds& grounds) {
    Exposures out;
    for (std::size_t a = 0; a < kAngles; ++a) {
        std::vector<colour::Lab> labs;
        for (const Rung& rung : ladder.rungs)
            for (const OverGround& over : grounds)
                labs.push_back((*rung.flakes.*over.appearance).at(kShownAngles[a]));
        out[a] = formulation::exposure_to_fit(labs);
    }
    return out;
}

void draw_heads(Canvas& canvas, const OverGrounds& grounds, const Exposures& exposures) {
    for (std::size_t g = 0; g < kGrounds; ++g) {
        const double x = kMargin + kLabel + kBlock * static_cast<double>(g);
        canvas.text_to_fit(x, kTop - 72, kCell * kAngles, "over " + grounds[g].name,
                           {26, kInk, Align::left, Weight::bold});
        for (std::size_t a = 0; a < kAngles; ++a) {
            const double centre = x + kCell * (static_cast<double>(a) + 0.5);
            canvas.text(centre, kTop - 40, angle_text(kShownAngles[a]), {23, kInk, Align::centre});
            if (exposures[a] < 1)
                canvas.text(centre, kTop - 15, fmt::format("darkened to {:.0f} %", 100 * exposures[a]),
                            {17, kFaintInk, Align::centre});
        }
    }
}

void draw_rung(Canvas& canvas, const Rung& rung, const OverGrounds& grounds, const Exposures& exposures,
               double y, DisplayUnits units) {
    canvas.text_to_fit(kMargin, y + 26, kLabel - 16, rung.label, {28, kInk, Align::left, Weight::bold});
    canvas.text(kMargin, y + 62,
                fmt::format("{}, {}", units.text(rung.film, 1), units.text(rung.content.in_mix)), {20});
    canvas.text_to_fit(
        kMargin, y + 92, kLabel - 16,
        fmt::format("{} per {}, {}", flake_count_text(units.per_area_unit(rung.flakes->per_cm2)),
                    units.area_unit_name(), evenness_label(*rung.flakes)),
        {20});
    for (std::size_t g = 0; g < kGrounds; ++g) {
        const film::MultiAngleColour& appearance = *rung.flakes.*grounds[g].appearance;
        const double x = kMargin + kLabel + kBlock * static_cast<double>(g);
        canvas.fill(x, y, kCell * kAngles, kRow - 8, display_rgb(grounds[g].ground));
        for (std::size_t a = 0; a < kAngles; ++a) {
            const colour::Lab& lab = appearance.at(kShownAngles[a]);
            const colour::Lab displayed = formulation::apply_exposure(lab, exposures[a]);
            const double left = x + kCell * static_cast<double>(a);
            canvas.fill(left + 6, y + 12, kCell - 12, kRow - 32, display_rgb(displayed));
            canvas.text(left + 16, y + 34, fmt::format("L* {:.0f}", lab.L), {20, contrasting_ink(displayed)});
            canvas.text(left + 16, y + 62, fmt::format("C* {:.0f}", chroma_of(lab)),
                        {20, contrasting_ink(displayed)});
            if (a + 1 == kAngles)
                canvas.text(left + 16, y + 90, fmt::format("flop {:.1f}", appearance.flop),
                            {20, contrasting_ink(displayed)});
        }
    }
}

}  // namespace

Picture flake_ladder_sheet(const Ladder& ladder) {
    const OverGrounds grounds{OverGround{"black", {7, 0, 0}, &FlakeAppearance::over_black},
                              OverGround{"grey", {58, 0, 0}, &FlakeAppearance::over_grey},
                              OverGround{"white", {94, 0, 0}, &FlakeAppearance::over_white},
                              OverGround{ladder.ground_name, ladder.ground, &FlakeAppearance::over_ground}};
    const Exposures exposures = exposures_of(ladder, grounds);
    std::vector<std::string> sentences = describe_chroma_peaks(ladder);
    const bool dosed = std::any_of(ladder.rungs.begin(), ladder.rungs.end(),
                                   [](const Rung& rung) { return rung.content.in_mix.value > 0; });
    if (dosed) sentences.push_back(flake_powder_note());
    const auto rows = static_cast<double>(ladder.rungs.size());
    Canvas canvas(static_cast<int>(2 * kMargin + kLabel + kBlock * kGrounds),
                  static_cast<int>(kTop + kRow * rows + 40 + 36 * static_cast<double>(sentences.size())));
    const double inner = canvas.width() - 2 * kMargin;
    canvas.text_to_fit(kMargin, 46, inner, ladder.title, {32, kInk, Align::left, Weight::bold});
    canvas.text_to_fit(kMargin, 88, inner, fmt::format("Varied: {}. Fixed: {}", ladder.varied, ladder.fixed),
                       {23});
    canvas.text_to_fit(kMargin, 122, inner,
                       fmt::format("light at 45°, viewed at 15°, 45° and 110° aspecular; {}", ladder.light),
                       {21, kFaintInk});
    draw_heads(canvas, grounds, exposures);
    double y = kTop;
    for (const Rung& rung : ladder.rungs) {
        draw_rung(canvas, rung, grounds, exposures, y, ladder.units);
        y += kRow;
    }
    y += 24;
    for (const std::string& sentence : sentences) {
        canvas.text_to_fit(kMargin, y, inner, sentence, {24});
        y += 36;
    }
    return canvas.picture();
}

}  // namespace fadewright::report
