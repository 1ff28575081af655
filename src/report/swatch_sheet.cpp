#include "fadewright/report/swatch_sheet.h"

#include "fadewright/film/outlook.h"
#include "fadewright/paint/mix.h"
#include "fadewright/report/canvas.h"
#include "fadewright/report/flake_look.h"
#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace fadewright::report {
namespace {

constexpr Degrees kNear{15}, kStraight{45};
constexpr Micrometres kThick{2000};  // no ground shows through so much of any paint with flakes

using Cells = std::array<colour::Lab, 8>;

Cells cells_of(const PaintSwatches& p) {
    return {p.masstone,
            p.one_coat_over_white,
            p.three_coats_over_white,
            p.one_coat_over_black,
            p.three_coats_over_black,
            p.let_down_1,
            p.let_down_10,
            p.let_down_50};
}

std::vector<film::AngledLook> looks_from_the_side(const paint::MixedPaint& mix, Micrometres one,
                                                  const film::Looker& looker) {
    const auto chart_white = colour::Reflectance::constant(film::kWhiteCard);
    const auto chart_black = colour::Reflectance::constant(film::kBlackCard);
    const auto look = [&](Micrometres film, const colour::Reflectance& ground) {
        const film::Coat coat{&mix, film, {}};
        return film::angled_look({&coat, 1}, ground, looker);
    };
    return {look(kThick, chart_black), look(one, chart_white), look(3.0 * one, chart_white),
            look(one, chart_black), look(3.0 * one, chart_black)};
}

double near_exposure(const std::vector<PaintSwatches>& paints) {
    std::vector<colour::Lab> labs;
    for (const PaintSwatches& p : paints)
        for (const film::AngledLook& look : p.from_the_side) labs.push_back(look.at(kNear));
    return exposure_of(labs);
}

}  // namespace

PaintSwatches swatches_of(const paint::Paint& paint, const paint::Paint& white, const colour::Light& light) {
    const film::Looker looker(light);
    const auto chart_white = colour::Reflectance::constant(film::kWhiteCard);
    const auto chart_black = colour::Reflectance::constant(film::kBlackCard);
    const paint::Part alone{&paint, 1};
    const paint::MixedPaint full = paint::mixed({&alone, 1});
    const Micrometres one = paint.coat_film;
    PaintSwatches out;
    out.id = paint.id;
    out.title = paint.title;
    out.colour_index = paint.colour_index;
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
    if (film::has_flakes(full)) out.from_the_side = looks_from_the_side(full, one, looker);
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
    const double exposure = near_exposure(paints);
    if (std::any_of(paints.begin(), paints.end(), [](const auto& p) { return !p.from_the_side.empty(); }))
        canvas.text(
            30, 88,
            fmt::format("paints with flakes: at 15 deg from the shine | at 45 deg; 15 deg shown {:.2f} "
                        "times as bright as it is",
                        exposure),
            {17, kFaintInk});
    for (std::size_t row = 0; row < paints.size(); ++row) {
        const PaintSwatches& p = paints[row];
        const double y = kTop + kRow * static_cast<double>(row);
        canvas.text(30, y + 24, p.title, {20});
        canvas.text(30, y + 50, fmt::format("{}  {}", p.id, p.colour_index), {15, kFaintInk});
        const Cells cells = cells_of(p);
        for (std::size_t i = 0; i < cells.size(); ++i) {
            const double x = kName + kCell * static_cast<double>(i);
            if (i == 1 || i == 2) canvas.fill(x, y, kCell, kRow - 6, {236, 236, 236});
            if (i == 3 || i == 4) canvas.fill(x, y, kCell, kRow - 6, {12, 12, 12});
            const double inset = i >= 1 && i <= 4 ? 12 : 2;
            const double top = y + (inset > 2 ? 10 : 0), w = kCell - 2 * inset,
                         h = kRow - 6 - (inset > 2 ? 20 : 0);
            if (i >= p.from_the_side.size()) {
                canvas.fill(x + inset, top, w, h, shown(cells[i]));
                continue;
            }
            const film::AngledLook& look = p.from_the_side[i];
            canvas.fill(x + inset, top, w / 2, h, shown(exposed(look.at(kNear), exposure)));
            canvas.fill(x + inset + w / 2, top, w / 2, h, shown(look.at(kStraight)));
        }
    }
    return canvas.picture();
}

}  // namespace fadewright::report
