// The rows of a blend's sheet that show a mix with flakes from the side.

#include "blend_flakes.h"
#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <array>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr double kLeft = 40, kRight = 1560, kLabel = 250;

struct Over {
    std::string name;
    colour::Lab ground;
    const film::AngledLook FlakeLook::*look;
};

// One for each angle, so that what glints beyond white keeps its colour.
using Exposures = std::array<double, film::kAspecular.size()>;

Exposures exposures_of(const FlakeBlend& flakes, const std::array<Over, 3>& grounds) {
    Exposures out;
    for (std::size_t i = 0; i < out.size(); ++i) {
        std::vector<colour::Lab> labs;
        for (const FlakeLook& look : flakes.coats)
            for (const Over& over : grounds) labs.push_back((look.*over.look).labs[i]);
        out[i] = exposure_of(labs);
    }
    return out;
}

std::size_t place_of(Degrees aspecular) {
    std::size_t i = 0;
    while (film::kAspecular[i] != aspecular) ++i;
    return i;
}

std::string exposure_words(const Exposures& exposures) {
    std::string words;
    for (std::size_t i = 0; i < exposures.size(); ++i)
        if (exposures[i] < 1)
            words += fmt::format("{}{} at {:.2f}", words.empty() ? "shown darker than it is: " : ", ",
                                 angle_text(film::kAspecular[i]), exposures[i]);
    return words;
}

// Three swatches beside each other on their ground: 15, 45 and 110 degrees.
void draw_cell(Canvas& canvas, double x, double y, double w, double h, const Over& over,
               const FlakeLook& look, const Exposures& exposures) {
    canvas.fill(x, y, w, h, shown(over.ground));
    const double third = (w - 20) / kShownAngles.size();
    for (std::size_t a = 0; a < kShownAngles.size(); ++a) {
        const std::size_t i = place_of(kShownAngles[a]);
        const double left = std::round(x + 10 + third * static_cast<double>(a)),
                     right = std::round(x + 10 + third * static_cast<double>(a + 1));
        canvas.fill(left, y + 10, right - left, h - 20,
                    shown(exposed((look.*over.look).labs[i], exposures[i])));
    }
}

double draw_all_angles(Canvas& canvas, const Blend& blend, const Exposures& exposures, double y) {
    const std::size_t count = blend.flakes->coats.size();
    const film::AngledLook& look = blend.flakes->coats.back().over_black;
    const double cell = (kRight - kLeft - kLabel) / film::kAspecular.size();
    constexpr double kRow = 120;
    canvas.text_within(kLeft, y + 40, kLabel - 10,
                       fmt::format("{} {} over black", count, count == 1 ? "coat" : "coats"), {22});
    canvas.text(kLeft, y + 74, fmt::format("flop index {:.1f}", look.flop), {20});
    for (std::size_t i = 0; i < film::kAspecular.size(); ++i) {
        const double x = kLeft + kLabel + cell * static_cast<double>(i);
        const colour::Lab lab = exposed(look.labs[i], exposures[i]);
        canvas.fill(x, y, cell - 4, kRow, shown(lab));
        const Rgb ink = ink_on(lab);
        canvas.text(x + 12, y + 24, angle_text(film::kAspecular[i]), {20, ink, Align::left, Weight::bold});
        canvas.text(x + 12, y + 60, lab_text(look.labs[i]), {19, ink});
        canvas.text(x + 12, y + 94, fmt::format("chroma {:.1f}", chroma_of(look.labs[i])), {19, ink});
    }
    return y + kRow + 24;
}

}  // namespace

double draw_flakes(Canvas& canvas, const Blend& blend, double y) {
    const std::array<Over, 3> grounds{Over{"black", {7, 0, 0}, &FlakeLook::over_black},
                                      Over{"white", {94, 0, 0}, &FlakeLook::over_white},
                                      Over{blend.ground_name, blend.ground, &FlakeLook::over_ground}};
    const Exposures exposures = exposures_of(*blend.flakes, grounds);
    const std::vector<FlakeLook>& coats = blend.flakes->coats;
    const double cell = (kRight - kLeft - kLabel) / static_cast<double>(coats.size());
    constexpr double kRow = 92;
    y += 10;
    canvas.text(kLeft, y, "from the side", {24, kInk, Align::left, Weight::bold});
    canvas.text(kLeft + kLabel, y, "each swatch at 15 | 45 | 110 deg from the shine, light at 45 deg", {20});
    y += 28;
    for (const Over& over : grounds) {
        canvas.text_within(kLeft, y + kRow / 2 - 4, kLabel - 10, "over " + over.name, {22});
        for (std::size_t n = 0; n < coats.size(); ++n)
            draw_cell(canvas, kLeft + kLabel + cell * static_cast<double>(n), y, cell - 4, kRow - 4, over,
                      coats[n], exposures);
        y += kRow;
    }
    canvas.text(kLeft, y + 16, fmt::format("flakes a {}", blend.units.patch()), {20, kFaintInk});
    for (std::size_t n = 0; n < coats.size(); ++n)
        canvas.text_within(kLeft + kLabel + cell * static_cast<double>(n) + 6, y + 16, cell - 12,
                           fmt::format("{}, {}", number_of_flakes(blend.units.on_patch(coats[n].per_cm2)),
                                       patchiness_words(coats[n])),
                           {20, kFaintInk});
    y = draw_all_angles(canvas, blend, exposures, y + 50);
    canvas.text_within(kLeft, y, kRight - kLeft, exposure_words(exposures), {18, kFaintInk});
    return y + 40;
}

}  // namespace fadewright::report
