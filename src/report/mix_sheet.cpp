#include "fadewright/report/colour_naming.h"
#include "fadewright/report/format.h"
#include "fadewright/report/mix_report.h"
#include "mix_flakes.h"

#include <fmt/core.h>

#include <array>

namespace fadewright::report {
namespace {

constexpr int kWidth = 1600;
constexpr double kLeft = 40, kRight = 1560;

// A swatch with a border of the ground it is sprayed over.
void swatch_on(Canvas& canvas, double x, double y, double w, double h, const colour::Lab& ground,
               const colour::Lab& lab) {
    canvas.fill(x, y, w, h, display_rgb(ground));
    canvas.fill(x + 10, y + 10, w - 20, h - 20, display_rgb(lab));
}

double draw_head(Canvas& canvas, const MixReport& mix_report) {
    canvas.text_to_fit(kLeft, 50, kRight - kLeft, mix_report.title, {32, kInk, Align::left, Weight::bold});
    double y = 100;
    for (const paint::Ingredient& i : mix_report.ingredients) {
        canvas.text(kLeft, y, fmt::format("{:.1f} %", 100 * i.of_mix_volume.value),
                    {22, kInk, Align::left, Weight::bold});
        canvas.text(kLeft + 110, y,
                    fmt::format("{}  ({:.1f} % by weight)", i.title, 100 * i.of_mix_weight.value), {22});
        y += 34;
    }
    canvas.fill(1010, 84, 550, 190, display_rgb(mix_report.drawdown.masstone));
    const Rgb ink = contrasting_ink(mix_report.drawdown.masstone);
    canvas.text(1030, 114, "masstone", {22, ink, Align::left, Weight::bold});
    canvas.text(1030, 214, colour_name(mix_report.drawdown.masstone), {22, ink});
    canvas.text(1030, 248, "L* a* b*  " + lab_text(mix_report.drawdown.masstone), {20, ink});
    return std::max(y, 290.0);
}

double draw_sentences(Canvas& canvas, const MixReport& mix_report, double y) {
    y += 14;
    for (const std::string& sentence : mix_sentences(mix_report)) {
        canvas.text_to_fit(kLeft, y, kRight - kLeft, "– " + sentence, {22});
        y += 34;
    }
    canvas.text(kLeft, y,
                fmt::format("– solids {:.1f} % by volume; binder {} ready to spray; pigment to binder {:.2f}",
                            100 * mix_report.mix.solids.value, binder_label(mix_report),
                            mix_report.mix.pigment_binder),
                {22});
    return y + 50;
}

double draw_coats(Canvas& canvas, const MixReport& mix_report, const colour::Lab& ground, double y) {
    const std::array<std::pair<std::string, colour::Lab>, 4> grounds{{{"white", {94, 0, 0}},
                                                                      {"grey", {58, 0, 0}},
                                                                      {"black", {7, 0, 0}},
                                                                      {mix_report.ground_name, ground}}};
    const double label = 250,
                 cell = (kRight - kLeft - label) / static_cast<double>(mix_report.drawdown.coats.size());
    constexpr double kRow = 92;
    canvas.text(kLeft, y, mix_report.flakes ? "in diffuse light" : "coat by coat",
                {24, kInk, Align::left, Weight::bold});
    for (std::size_t n = 0; n < mix_report.drawdown.coats.size(); ++n)
        canvas.text(kLeft + label + cell * (static_cast<double>(n) + 0.5), y,
                    fmt::format("{}: {}", n + 1, mix_report.units.text(mix_report.drawdown.coats[n].film)),
                    {20, kInk, Align::centre});
    y += 28;
    for (std::size_t g = 0; g < grounds.size(); ++g) {
        canvas.text_to_fit(kLeft, y + kRow / 2 - 4, label - 10, "over " + grounds[g].first, {22});
        for (std::size_t n = 0; n < mix_report.drawdown.coats.size(); ++n) {
            const formulation::DrawdownCoat& c = mix_report.drawdown.coats[n];
            const std::array colours{c.over_white, c.over_grey, c.over_black, c.over_ground};
            swatch_on(canvas, kLeft + label + cell * static_cast<double>(n), y, cell - 4, kRow - 4,
                      grounds[g].second, colours[g]);
        }
        y += kRow;
    }
    canvas.text(kLeft, y + 16, "contrast ratio", {20, kFaintInk});
    for (std::size_t n = 0; n < mix_report.drawdown.coats.size(); ++n)
        canvas.text(kLeft + label + cell * (static_cast<double>(n) + 0.5), y + 16,
                    fmt::format("{:.3f}", mix_report.drawdown.coats[n].contrast_ratio),
                    {20, kFaintInk, Align::centre});
    return y + 60;
}

double draw_midpoints(Canvas& canvas, const TwoColours& two_colours, double y) {
    canvas.text(kLeft, y, "Halfway colour, three ways", {24, kInk, Align::left, Weight::bold});
    y += 28;
    constexpr double kRow = 130;
    const double cell = (kRight - kLeft) / 5;
    const std::array<std::pair<std::string, colour::Lab>, 5> cells{
        {{two_colours.a, two_colours.midpoints.a},
         {"mixed in the cup", two_colours.midpoints.premixed.lab},
         {"sprayed as a thin coat", two_colours.midpoints.glazed.lab},
         {"fogged on as dots", two_colours.midpoints.stippled.lab},
         {two_colours.b, two_colours.midpoints.b}}};
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const double x = kLeft + cell * static_cast<double>(i);
        const auto& [text, lab] = cells[i];
        canvas.fill(x, y, cell - 4, kRow, display_rgb(lab));
        // A long name is shrunk to its cell, not cut.
        canvas.text_to_fit(x + 12, y + 26, cell - 28, text,
                           {21, contrasting_ink(lab), Align::left, Weight::bold});
        canvas.text(x + 12, y + kRow - 22, lab_text(lab), {19, contrasting_ink(lab)});
    }
    return y + kRow + 30;
}

}  // namespace

Picture mix_sheet(const MixReport& mix_report) {
    const double lines =
        static_cast<double>(mix_report.ingredients.size() + mix_sentences(mix_report).size());
    const int height = static_cast<int>(780 + 34 * lines + (mix_report.two_colours ? 200 : 0) +
                                        (mix_report.flakes ? kFlakesHeight : 0));
    Canvas canvas(kWidth, height);
    double y = draw_head(canvas, mix_report);
    y = draw_sentences(canvas, mix_report, y);
    y = draw_coats(canvas, mix_report, mix_report.ground, y);
    if (mix_report.flakes) y = draw_flakes(canvas, mix_report, y);
    if (mix_report.two_colours) y = draw_midpoints(canvas, *mix_report.two_colours, y);
    canvas.text(kLeft, y + 10,
                fmt::format("light: {}; paint data {}; not a colour approval", mix_report.light,
                            provenance_label(mix_report.mix.origin)),
                {18, kFaintInk});
    return canvas.picture();
}

}  // namespace fadewright::report
