#include "fadewright/report/scale_bar.h"

#include <fmt/core.h>

namespace fadewright::report {
namespace {

constexpr Rgb kBlack{0, 0, 0};

struct BarDivisions {
    double length_mm;  // of each
    int count;
    int middle_label, end_label;  // the figures, in the unit shown
};

BarDivisions bar_divisions(DisplayUnits units) {
    if (units.system() == UnitSystem::metric) return {10, 10, 50, 100};
    return {units.unit_size<Millimetres>() / 2, 8, 2, 4};
}

}  // namespace

Millimetres bar_length(DisplayUnits units) {
    const BarDivisions divisions = bar_divisions(units);
    return Millimetres{divisions.count * divisions.length_mm};
}

std::string bar_label(DisplayUnits units) {
    return fmt::format("{} {}", bar_divisions(units).end_label, units.unit_name<Millimetres>());
}

void draw_scale_bar(PdfSheet& sheet, double x, double y, DisplayUnits units, const BarStyle& style,
                    std::string_view suffix) {
    const BarDivisions divisions = bar_divisions(units);
    for (int i = 0; i < divisions.count; ++i)
        sheet.fill(x + i * divisions.length_mm, y, divisions.length_mm, kBarHeight_mm,
                   i % 2 == 0 ? kBlack : kRule);
    for (const int figure : {0, divisions.middle_label, divisions.end_label}) {
        const double at = x + figure * units.unit_size<Millimetres>();
        sheet.text(at, y + kBarHeight_mm + style.label_gap, fmt::format("{}", figure),
                   {style.text_mm, kInk, figure == 0 ? style.first_align : Align::centre});
    }
    sheet.text(x + bar_length(units).value + style.unit_gap, y + kBarHeight_mm / 2,
               fmt::format("{}{}", units.unit_name<Millimetres>(), suffix), {style.text_mm, kInk});
}

}  // namespace fadewright::report
