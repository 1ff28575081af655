#include "blend_flakes.h"
#include "fadewright/colour/words.h"
#include "fadewright/report/blend.h"
#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <array>

namespace fadewright::report {
namespace {

constexpr int kWidth = 1600;
constexpr double kLeft = 40, kRight = 1560;

// A swatch lying on the ground it is laid over, which shows around it.
void swatch_on(Canvas& canvas, double x, double y, double w, double h, const colour::Lab& ground,
               const colour::Lab& lab) {
    canvas.fill(x, y, w, h, shown(ground));
    canvas.fill(x + 10, y + 10, w - 20, h - 20, shown(lab));
}

double draw_head(Canvas& canvas, const Blend& blend) {
    canvas.text_within(kLeft, 50, kRight - kLeft, blend.title, {32, kInk, Align::left, Weight::bold});
    double y = 100;
    for (const Ingredient& i : blend.ingredients) {
        canvas.text(kLeft, y, fmt::format("{:.1f} %", 100 * i.of_mix_volume.value),
                    {22, kInk, Align::left, Weight::bold});
        canvas.text(kLeft + 110, y,
                    fmt::format("{}  ({:.1f} % by weight)", i.title, 100 * i.of_mix_weight.value), {22});
        y += 34;
    }
    canvas.fill(1010, 84, 550, 190, shown(blend.outlook.masstone));
    const Rgb ink = ink_on(blend.outlook.masstone);
    canvas.text(1030, 114, "masstone", {22, ink, Align::left, Weight::bold});
    canvas.text(1030, 214, colour::colour_words(blend.outlook.masstone), {22, ink});
    canvas.text(1030, 248, "L* a* b*  " + lab_text(blend.outlook.masstone), {20, ink});
    return std::max(y, 290.0);
}

double draw_sentences(Canvas& canvas, const Blend& blend, double y) {
    y += 14;
    for (const std::string& sentence : blend_sentences(blend)) {
        canvas.text_within(kLeft, y, kRight - kLeft, "– " + sentence, {22});
        y += 34;
    }
    canvas.text(kLeft, y,
                fmt::format("– solids {:.1f} % by volume; binder {} as sprayed; pigment to binder {:.2f}",
                            100 * blend.mix.solids.value, binder_words(blend), blend.mix.pigment_binder),
                {22});
    return y + 50;
}

double draw_coats(Canvas& canvas, const Blend& blend, const colour::Lab& ground, double y) {
    const std::array<std::pair<std::string, colour::Lab>, 4> grounds{
        {{"white", {94, 0, 0}}, {"grey", {58, 0, 0}}, {"black", {7, 0, 0}}, {blend.ground_name, ground}}};
    const double label = 250,
                 cell = (kRight - kLeft - label) / static_cast<double>(blend.outlook.coats.size());
    constexpr double kRow = 92;
    canvas.text(kLeft, y, blend.flakes ? "in even light" : "coat by coat",
                {24, kInk, Align::left, Weight::bold});
    for (std::size_t n = 0; n < blend.outlook.coats.size(); ++n)
        canvas.text(kLeft + label + cell * (static_cast<double>(n) + 0.5), y,
                    fmt::format("{}: {}", n + 1, blend.units.text(blend.outlook.coats[n].film)),
                    {20, kInk, Align::centre});
    y += 28;
    for (std::size_t g = 0; g < grounds.size(); ++g) {
        canvas.text_within(kLeft, y + kRow / 2 - 4, label - 10, "over " + grounds[g].first, {22});
        for (std::size_t n = 0; n < blend.outlook.coats.size(); ++n) {
            const film::CoatLook& c = blend.outlook.coats[n];
            const std::array looks{c.over_white, c.over_grey, c.over_black, c.over_ground};
            swatch_on(canvas, kLeft + label + cell * static_cast<double>(n), y, cell - 4, kRow - 4,
                      grounds[g].second, looks[g]);
        }
        y += kRow;
    }
    canvas.text(kLeft, y + 16, "contrast ratio", {20, kFaintInk});
    for (std::size_t n = 0; n < blend.outlook.coats.size(); ++n)
        canvas.text(kLeft + label + cell * (static_cast<double>(n) + 0.5), y + 16,
                    fmt::format("{:.3f}", blend.outlook.coats[n].contrast_ratio),
                    {20, kFaintInk, Align::centre});
    return y + 60;
}

double draw_middles(Canvas& canvas, const TwoColours& two, double y) {
    canvas.text(kLeft, y, "the middle, made three ways", {24, kInk, Align::left, Weight::bold});
    y += 28;
    constexpr double kRow = 130;
    const double cell = (kRight - kLeft) / 5;
    const std::array<std::pair<std::string, colour::Lab>, 5> cells{{{two.a, two.middles.a},
                                                                    {"in the cup", two.middles.cup.lab},
                                                                    {"as a thin coat", two.middles.film.lab},
                                                                    {"as dots", two.middles.dots.lab},
                                                                    {two.b, two.middles.b}}};
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const double x = kLeft + cell * static_cast<double>(i);
        const auto& [words, lab] = cells[i];
        canvas.fill(x, y, cell - 4, kRow, shown(lab));
        // A long name is shrunk to its cell rather than cut.
        canvas.text_within(x + 12, y + 26, cell - 28, words, {21, ink_on(lab), Align::left, Weight::bold});
        canvas.text(x + 12, y + kRow - 22, lab_text(lab), {19, ink_on(lab)});
    }
    return y + kRow + 30;
}

}  // namespace

Picture blend_sheet(const Blend& blend) {
    const double lines = static_cast<double>(blend.ingredients.size() + blend_sentences(blend).size());
    const int height =
        static_cast<int>(780 + 34 * lines + (blend.two ? 200 : 0) + (blend.flakes ? kFlakesHeight : 0));
    Canvas canvas(kWidth, height);
    double y = draw_head(canvas, blend);
    y = draw_sentences(canvas, blend, y);
    y = draw_coats(canvas, blend, blend.ground, y);
    if (blend.flakes) y = draw_flakes(canvas, blend, y);
    if (blend.two) y = draw_middles(canvas, *blend.two, y);
    canvas.text(kLeft, y + 10,
                fmt::format("seen in {}; paint data {}; not a colour approval", blend.light,
                            origin_words(blend.mix.origin)),
                {18, kFaintInk});
    return canvas.picture();
}

}  // namespace fadewright::report
