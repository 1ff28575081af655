#include "fadewright/report/scale_bar.h"

#include <fmt/core.h>

namespace fadewright::report {
namespace {

constexpr Rgb kBlack{0, 0, 0};

struct Pieces {
    double length_mm;  // of each
    int count;
    int middle, end;  // what is written there, in the unit
};

Pieces pieces_of(ShownUnits units) {
    if (units.system() == UnitSystem::metric) return {10, 10, 50, 100};
    return {units.one<Millimetres>() / 2, 8, 2, 4};
}

}  // namespace

Millimetres bar_length(ShownUnits units) {
    const Pieces pieces = pieces_of(units);
    return Millimetres{pieces.count * pieces.length_mm};
}

std::string bar_words(ShownUnits units) {
    return fmt::format("{} {}", pieces_of(units).end, units.name<Millimetres>());
}

void draw_scale_bar(PdfSheet& sheet, double x, double y, ShownUnits units, const BarStyle& style,
                    std::string_view more) {
    const Pieces pieces = pieces_of(units);
    for (int i = 0; i < pieces.count; ++i)
        sheet.fill(x + i * pieces.length_mm, y, pieces.length_mm, kBarHigh_mm, i % 2 == 0 ? kBlack : kRule);
    for (const int figure : {0, pieces.middle, pieces.end}) {
        const double at = x + figure * units.one<Millimetres>();
        sheet.text(at, y + kBarHigh_mm + style.below, fmt::format("{}", figure),
                   {style.text_mm, kInk, figure == 0 ? style.first : Align::centre});
    }
    sheet.text(x + bar_length(units).value + style.beside, y + kBarHigh_mm / 2,
               fmt::format("{}{}", units.name<Millimetres>(), more), {style.text_mm, kInk});
}

}  // namespace fadewright::report
