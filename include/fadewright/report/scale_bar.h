// A bar of true length on paper, to measure: 100 mm in centimetres, or 4 in in half inches.
//
// Checks     tests/app/sheet_test.cpp, tests/app/outline_template_test.cpp, tests/report/blank_card_test.cpp
#pragma once

#include "fadewright/report/pdf_sheet.h"
#include "fadewright/text/display_units.h"

#include <string>
#include <string_view>

namespace fadewright::report {

inline constexpr double kBarHeight_mm = 2.2;

[[nodiscard]] Millimetres bar_length(DisplayUnits units);
[[nodiscard]] std::string bar_label(DisplayUnits units);  // "100 mm", "4 in"

struct BarStyle {
    double text_mm;
    double label_gap;                   // from the bar down to the centre of its figures
    double unit_gap;                    // from its end to its unit
    Align first_align = Align::centre;  // of the figure 0
};

// Draws the bar with its upper left corner there; `suffix` follows the unit.
void draw_scale_bar(PdfSheet& sheet, double x, double y, DisplayUnits units, const BarStyle& style,
                    std::string_view suffix = "");

}  // namespace fadewright::report
