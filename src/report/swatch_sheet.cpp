#include "fadewright/report/swatch_sheet.h"

#include "fadewright/film/outlook.h"
#include "fadewright/paint/mix.h"
#include "fadewright/report/canvas.h"
#include "fadewright/report/shown.h"

#include <fmt/format.h>

#include <array>

namespace fadewright::report {
PaintSwatches swatches_of(const paint::Paint& paint, const paint::Paint& white, const colour::Light& light) {
    const film::Looker looker(light);
    const auto chart_white = colour::Reflectance::constant(film::kWhiteCard);
    const auto chart_black = colour::Reflectance::constant(film::kBlackCard);
    const paint::Part alone{&paint, 1};
    const paint::MixedPaint full = paint::mixed({&alone, 1});
    const Micrometres one = paint.coat_film;
    PaintSwatches out{paint.id, paint.title, paint.colour_index, {}, {}, {}, {}, {}, {}, {}, {}, 0};
    out.masstone = looker.lab(film::masstone(full));
    out.one_coat_over_white = looker.lab(film::over(full, one, chart_white));
    out.one_coat_over_black = looker.lab(film::over(full, one, chart_black));
    out.three_coats_over_white = looker.lab(film::over(full, 3.0 * one, chart_white));
    out.three_coats_over_black = looker.lab(film::over(full, 3.0 * one, chart_black));
    const auto let_down = [&](double parts_of_white) {
        const std::array<paint::Part, 2> parts{paint::Part{&paint, 1}, paint::Part{&white, parts_of_white}};
        return looker.lab(film::masstone(paint::mixed(parts)));
    };
    out.let_down_1 = let_down(1);
    out.let_down_10 = let_down(10);
    out.let_down_50 = let_down(50);
    out.contrast_ratio =
        looker.xyz(film::over(full, one, chart_black)).Y / looker.xyz(film::over(full, one, chart_white)).Y;
    return out;
}

Picture swatch_sheet(const std::vector<PaintSwatches>& paints, const std::string& title) {
    constexpr int kRow = 74, kTop = 150, kName = 470, kWidth = 1640;
    constexpr double kCell = 130;
    Canvas canvas(kWidth, kTop + kRow * static_cast<int>(paints.size()) + 30);
    canvas.text(30, 44, title, {30, kInk, Align::left, Weight::bold});
    constexpr std::array kHeads{"masstone",      "1 coat/white", "3 coats/white", "1 coat/black",
                                "3 coats/black", "1 : 1 white",  "1 : 10 white",  "1 : 50 white"};
    for (std::size_t i = 0; i < kHeads.size(); ++i)
        canvas.text(kName + kCell * (static_cast<double>(i) + 0.5), 124, kHeads[i],
                    {17, kInk, Align::centre});
    for (std::size_t row = 0; row < paints.size(); ++row) {
        const PaintSwatches& p = paints[row];
        const double y = kTop + kRow * static_cast<double>(row);
        canvas.text(30, y + 24, p.title, {20});
        canvas.text(30, y + 50, fmt::format("{}  {}", p.id, p.colour_index), {15, kFaintInk});
        const std::array cells{p.masstone,
                               p.one_coat_over_white,
                               p.three_coats_over_white,
                               p.one_coat_over_black,
                               p.three_coats_over_black,
                               p.let_down_1,
                               p.let_down_10,
                               p.let_down_50};
        for (std::size_t i = 0; i < cells.size(); ++i) {
            const double x = kName + kCell * static_cast<double>(i);
            if (i == 1 || i == 2) canvas.fill(x, y, kCell, kRow - 6, {236, 236, 236});
            if (i == 3 || i == 4) canvas.fill(x, y, kCell, kRow - 6, {12, 12, 12});
            const double inset = i >= 1 && i <= 4 ? 12 : 2;
            canvas.fill(x + inset, y + (inset > 2 ? 10 : 0), kCell - 2 * inset,
                        kRow - 6 - (inset > 2 ? 20 : 0), shown(cells[i]));
        }
    }
    return canvas.picture();
}

}  // namespace fadewright::report
