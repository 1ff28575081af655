// A bar of true length on paper, to measure: 100 mm in centimetres, or 4 in in half inches.
//
// Checks     tests/app/sheet_test.cpp, tests/app/template_test.cpp, tests/report/blank_card_test.cpp
#pragma once

#include "fadewright/report/pdf_sheet.h"
#include "fadewright/text/shown_units.h"

#include <string>
#include <string_view>

namespace fadewright::report {

inline constexpr double kBarHigh_mm = 2.2;

[[nodiscard]] Millimetres bar_length(ShownUnits units);
[[nodiscard]] std::string bar_words(ShownUnits units);  // "100 mm", "4 in"

struct BarStyle {
    double text_mm;
    double below;                 // from the bar down to the middle of its figures
    double beside;                // from its end to its unit
    Align first = Align::centre;  // of the figure 0
};

// Draws the bar with its upper left corner there; `more` stands behind the unit.
void draw_scale_bar(PdfSheet& sheet, double x, double y, ShownUnits units, const BarStyle& style,
                    std::string_view more = "");

}  // namespace fadewright::report
