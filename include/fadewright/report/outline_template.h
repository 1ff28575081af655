// Outlines at true size, over as many pages as they take, to cut stencils by and to check a piece against.
//
// The pages are a grid of windows that overlap; crosses stand in the middle of every overlap at the same place
// of the piece on both pages, so that pages laid cross on cross fit. Every page says its row and column and
// has a bar to measure; the first has a map. The middle of a line is the edge. Mirrored, the outline is
// turned left to right about the middle of the piece; lettering is not.
//
// Symbols    places in millimetres: of the piece from its lower left corner, y up; of the page from its upper
//            left, y down
// Holds for  printing at actual size; drawn outlines of up to kMostPages pages (the caller refuses more)
// Accuracy   on the page 0.01 mm, as PDF keeps it; on paper what the printer holds, which the bar shows
// Checks     tests/app/template_test.cpp, tests/report/outline_template_test.cpp
#pragma once

#include "fadewright/report/pdf_sheet.h"
#include "fadewright/spray/outline.h"
#include "fadewright/text/display_units.h"

#include <string>
#include <vector>

namespace fadewright::report {

inline constexpr double kOverlap_mm = 10;
inline constexpr int kMaxPages = 400;

enum class OutlineKind { panel, mask, region };
enum class Facing { as_seen, mirrored };

struct NamedOutline {
    std::string name;
    OutlineKind kind = OutlineKind::panel;
    spray::Outline outline;
};

struct OutlineTemplate {
    std::string title;
    std::vector<NamedOutline> outlines;
    spray::Box area;             // what the pages show of the piece
    double mirror_about_mm = 0;  // x of the line that mirroring keeps
    Facing facing = Facing::as_seen;
    DisplayUnits units;
};

// The grid of pages over the piece, its rows counted from the top, its columns from the left (as printed).
struct PageGrid {
    int rows = 1, columns = 1;
    Window window;                   // on every page: where the piece is drawn
    double left_mm = 0, top_mm = 0;  // of the piece as printed: the first window's upper left corner

    [[nodiscard]] int pages() const { return rows * columns; }
    // Where a place of the piece, as printed, lies on that page.
    [[nodiscard]] std::pair<double, double> on_page(int row, int column, double x_mm, double y_mm) const;
};

[[nodiscard]] PageGrid page_grid(const OutlineTemplate& outlines, Paper paper);

[[nodiscard]] std::string template_pdf(const OutlineTemplate& outlines, Paper paper);

}  // namespace fadewright::report
