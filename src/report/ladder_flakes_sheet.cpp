#include "fadewright/report/shown.h"
#include "ladder_flakes.h"

#include <fmt/core.h>

#include <array>

namespace fadewright::report {
namespace {

constexpr double kMargin = 40, kLabel = 250, kCell = 138, kGap = 16, kRow = 132, kTop = 240;
constexpr std::size_t kGrounds = 4, kAngles = kShownAngles.size();
constexpr double kBlock = kCell * kAngles + kGap;

struct Over {
    std::string name;
    colour::Lab ground;
    const film::AngledLook FlakeLook::*look;
};
using Overs = std::array<Over, kGrounds>;
using Exposures = std::array<double, kAngles>;

Exposures exposures_of(const Ladder& ladder, const Overs& grounds) {
    Exposures out;
    for (std::size_t a = 0; a < kAngles; ++a) {
        std::vector<colour::Lab> labs;
        for (const Rung& rung : ladder.rungs)
            for (const Over& over : grounds) labs.push_back((*rung.flakes.*over.look).at(kShownAngles[a]));
        out[a] = exposure_of(labs);
    }
    return out;
}

void draw_heads(Canvas& canvas, const Overs& grounds, const Exposures& exposures) {
    for (std::size_t g = 0; g < kGrounds; ++g) {
        const double x = kMargin + kLabel + kBlock * static_cast<double>(g);
        canvas.text_within(x, kTop - 72, kCell * kAngles, "over " + grounds[g].name,
                           {26, kInk, Align::left, Weight::bold});
        for (std::size_t a = 0; a < kAngles; ++a) {
            const double middle = x + kCell * (static_cast<double>(a) + 0.5);
            canvas.text(middle, kTop - 40, angle_text(kShownAngles[a]), {23, kInk, Align::centre});
            if (exposures[a] < 1)
                canvas.text(middle, kTop - 15, fmt::format("shown x {:.2f}", exposures[a]),
                            {17, kFaintInk, Align::centre});
        }
    }
}

void draw_rung(Canvas& canvas, const Rung& rung, const Overs& grounds, const Exposures& exposures, double y,
               ShownUnits units) {
    canvas.text_within(kMargin, y + 26, kLabel - 16, rung.label, {28, kInk, Align::left, Weight::bold});
    canvas.text(kMargin, y + 62,
                fmt::format("{}, {}", units.text(rung.film, 1), units.text(rung.content.in_mix)), {20});
    canvas.text_within(kMargin, y + 92, kLabel - 16,
                       fmt::format("{} a {}, {}", number_of_flakes(units.on_patch(rung.flakes->per_cm2)),
                                   units.patch(), patchiness_words(*rung.flakes)),
                       {20});
    for (std::size_t g = 0; g < kGrounds; ++g) {
        const film::AngledLook& look = *rung.flakes.*grounds[g].look;
        const double x = kMargin + kLabel + kBlock * static_cast<double>(g);
        canvas.fill(x, y, kCell * kAngles, kRow - 8, shown(grounds[g].ground));
        for (std::size_t a = 0; a < kAngles; ++a) {
            const colour::Lab& lab = look.at(kShownAngles[a]);
            const colour::Lab seen = exposed(lab, exposures[a]);
            const double left = x + kCell * static_cast<double>(a);
            canvas.fill(left + 6, y + 12, kCell - 12, kRow - 32, shown(seen));
            canvas.text(left + 16, y + 34, fmt::format("L {:.0f}", lab.L), {20, ink_on(seen)});
            canvas.text(left + 16, y + 62, fmt::format("C {:.0f}", chroma_of(lab)), {20, ink_on(seen)});
            if (a + 1 == kAngles)
                canvas.text(left + 16, y + 90, fmt::format("flop {:.1f}", look.flop), {20, ink_on(seen)});
        }
    }
}

}  // namespace

Picture flake_ladder_sheet(const Ladder& ladder) {
    const Overs grounds{Over{"black", {7, 0, 0}, &FlakeLook::over_black},
                        Over{"grey", {58, 0, 0}, &FlakeLook::over_grey},
                        Over{"white", {94, 0, 0}, &FlakeLook::over_white},
                        Over{ladder.ground_name, ladder.ground, &FlakeLook::over_ground}};
    const Exposures exposures = exposures_of(ladder, grounds);
    const std::vector<std::string> sentences = milk_sentences(ladder);
    const auto rows = static_cast<double>(ladder.rungs.size());
    Canvas canvas(static_cast<int>(2 * kMargin + kLabel + kBlock * kGrounds),
                  static_cast<int>(kTop + kRow * rows + 40 + 36 * static_cast<double>(sentences.size())));
    const double inner = canvas.width() - 2 * kMargin;
    canvas.text_within(kMargin, 46, inner, ladder.title, {32, kInk, Align::left, Weight::bold});
    canvas.text_within(kMargin, 88, inner, fmt::format("stepped: {}; held: {}", ladder.stepped, ladder.held),
                       {23});
    canvas.text_within(
        kMargin, 122, inner,
        fmt::format("light at 45 deg, the eye 15, 45 and 110 deg from the shine; {}", ladder.light),
        {21, kFaintInk});
    draw_heads(canvas, grounds, exposures);
    double y = kTop;
    for (const Rung& rung : ladder.rungs) {
        draw_rung(canvas, rung, grounds, exposures, y, ladder.units);
        y += kRow;
    }
    y += 24;
    for (const std::string& sentence : sentences) {
        canvas.text_within(kMargin, y, inner, sentence, {24});
        y += 36;
    }
    return canvas.picture();
}

}  // namespace fadewright::report
