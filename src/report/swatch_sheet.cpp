#include "fadewright/report/swatch_sheet.h"

#include "fadewright/report/canvas.h"
#include "fadewright/report/format.h"
#include "fadewright/report/phrases_flakes.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace fadewright::report {
namespace {

using formulation::PaintSwatches;

constexpr Degrees kNearSpecular{15}, kFaceAngle{45};

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

double near_specular_exposure(const std::vector<PaintSwatches>& paints) {
    std::vector<colour::Lab> labs;
    for (const PaintSwatches& p : paints)
        for (const film::MultiAngleColour& appearance : p.at_angles)
            labs.push_back(appearance.at(kNearSpecular));
    return formulation::exposure_to_fit(labs);
}

}  // namespace

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
    const double exposure = near_specular_exposure(paints);
    if (std::any_of(paints.begin(), paints.end(), [](const auto& p) { return !p.at_angles.empty(); }))
        canvas.text(
            30, 88,
            fmt::format("paints with flakes: 15° near-specular | 45° face; 15° darkened to {:.0f} % to fit "
                        "the screen",
                        100 * exposure),
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
            if (i >= p.at_angles.size()) {
                canvas.fill(x + inset, top, w, h, display_rgb(cells[i]));
                continue;
            }
            const film::MultiAngleColour& appearance = p.at_angles[i];
            canvas.fill(x + inset, top, w / 2, h,
                        display_rgb(formulation::apply_exposure(appearance.at(kNearSpecular), exposure)));
            canvas.fill(x + inset + w / 2, top, w / 2, h, display_rgb(appearance.at(kFaceAngle)));
        }
    }
    return canvas.picture();
}

}  // namespace fadewright::report
