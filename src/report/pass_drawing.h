// Drawing of the panel with the passes of some coats and their heights above the lower edge, in millimetres
// of paper.
#pragma once

#include "booth_sheet_content.h"
#include "fadewright/report/canvas.h"

#include <string>
#include <utility>
#include <vector>

namespace fadewright::report {

struct DrawnLine {
    std::vector<std::pair<double, double>> points;  // from the upper left
    Rgb ink;
    double line_mm = 0.3;
    bool dashed = false;
};

struct DrawnText {
    double x = 0, y = 0;  // y of the centre of the line
    std::string text;
    Align align = Align::left;
};

struct Drawing {
    double width = 0, height = 0, text_mm = 0;
    std::vector<DrawnLine> lines;
    std::vector<DrawnText> texts;
};

// No wider and no higher than that.
[[nodiscard]] Drawing draw_passes(const BoothSheet& sheet, const CoatGroup& group, double width,
                                  double height);

}  // namespace fadewright::report
