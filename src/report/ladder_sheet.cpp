#include "fadewright/report/format.h"
#include "fadewright/report/ladder.h"
#include "ladder_flakes.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr double kMargin = 40;
constexpr double kCellWidth = 290, kCellHeight = 520;
constexpr int kMaxColumns = 6;

// One rung: a large swatch over the job's ground, small ones over white and black, and the figures below.
void draw_rung(Canvas& canvas, const Ladder& ladder, const Rung& rung, bool first, double x, double y) {
    const double w = kCellWidth - 22;
    const DisplayUnits units = ladder.units;
    canvas.text_to_fit(x, y + 16, w, rung.label, {25, kInk, Align::left, Weight::bold});
    // Over the job's ground, large.
    canvas.fill(x, y + 40, w, 170, display_rgb(ladder.ground));
    canvas.fill(x + 18, y + 58, w - 36, 134, display_rgb(rung.over_ground));
    // Over white and black, side by side.
    canvas.fill(x, y + 214, w / 2, 110, display_rgb({94, 0, 0}));
    canvas.fill(x + 14, y + 228, w / 2 - 14, 82, display_rgb(rung.over_white));
    canvas.fill(x + w / 2, y + 214, w / 2, 110, display_rgb({7, 0, 0}));
    canvas.fill(x + w / 2, y + 228, w / 2 - 14, 82, display_rgb(rung.over_black));
    const TextStyle figure{20};
    double line = y + 350;
    const auto add_line = [&](const std::string& text) {
        canvas.text(x, line, text, figure);
        line += 29;
    };
    add_line(fmt::format("L* a* b*  {}", lab_text(rung.over_ground)));
    add_line(fmt::format("{} dry, contrast {:.2f}", units.text(rung.film, 1), rung.contrast_ratio));
    add_line(rung.film_to_hide ? "full hiding at " + units.text(*rung.film_to_hide) : "never hides");
    add_line("binder " + units.text(GramsPerLitre{rung.mix.binder_g_per_litre}));
    if (rung.price_per_litre)
        add_line(fmt::format("{:.2f} per {}", units.per_volume_unit(*rung.price_per_litre),
                             units.volume_unit_name()));
    if (!first)
        canvas.text(x, line, fmt::format("step {:.1f} ΔE00", rung.step.over_ground),
                    {20, kInk, Align::left, Weight::bold});
}

}  // namespace

Picture ladder_sheet(const Ladder& ladder) {
    if (has_flakes(ladder)) return flake_ladder_sheet(ladder);
    const auto count = static_cast<int>(ladder.rungs.size());
    const int across = std::clamp(count, 3, kMaxColumns);
    const int down = (count + across - 1) / across;
    Canvas canvas(static_cast<int>(2 * kMargin + kCellWidth * across),
                  static_cast<int>(200 + kCellHeight * down + 30));
    const double inner = canvas.width() - 2 * kMargin;
    canvas.text_to_fit(kMargin, 46, inner, ladder.title, {30, kInk, Align::left, Weight::bold});
    canvas.text(kMargin, 88, fmt::format("Varied: {}", ladder.varied), {22});
    canvas.text_to_fit(kMargin, 120, inner,
                       fmt::format("Fixed: {}; large swatch over {}; small over white and black; {}",
                                   ladder.fixed, ladder.ground_name, ladder.light),
                       {20, kFaintInk});
    for (int i = 0; i < count; ++i) {
        const int column = i % across, row = i / across;
        draw_rung(canvas, ladder, ladder.rungs[static_cast<std::size_t>(i)], i == 0,
                  kMargin + kCellWidth * column, 170 + kCellHeight * row);
    }
    return canvas.picture();
}

}  // namespace fadewright::report
