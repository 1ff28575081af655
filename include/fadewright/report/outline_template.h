// Full-size outlines over as many pages as needed, for cutting stencils and for checking a piece.
//
// The pages are a grid of overlapping windows; crosses stand in the centre of every overlap at the same
// points of the piece on both pages, so that pages fit when their crosses line up. Every page shows its row
// and column and a bar to measure; the first has a map. The centre of a line is the edge. Mirrored, the
// outline is flipped left to right about the centre of the piece; lettering is not.
//
// Symbols    positions in millimetres: of the piece from its lower left corner, y up; of the page from its
//            upper left, y down
// Holds for  printing at actual size; outlines of up to kMaxPages pages (the caller refuses more)
// Accuracy   in the PDF 0.01 mm; on paper that of the printer, which the bar shows
// Checks     tests/app/outline_template_test.cpp, tests/report/outline_template_test.cpp
#pragma once

#include "fadewright/geometry/outline.h"
#include "fadewright/report/pdf_sheet.h"
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
    geometry::Outline outline;
};

struct OutlineTemplate {
    std::string title;
    std::vector<NamedOutline> outlines;
    geometry::Box area;          // part of the piece on the pages
    double mirror_about_mm = 0;  // x of the mirror line
    Facing facing = Facing::as_seen;
    DisplayUnits units;
};

// The grid of pages over the piece, its rows counted from the top, its columns from the left (as printed).
struct PageGrid {
    int rows = 1, columns = 1;
    Window window;                   // on every page: where the piece is drawn
    double left_mm = 0, top_mm = 0;  // of the piece as printed: the first window's upper left corner

    [[nodiscard]] int pages() const { return rows * columns; }
    // Position on that page of a point of the piece as printed.
    [[nodiscard]] std::pair<double, double> on_page(int row, int column, double x_mm, double y_mm) const;
};

[[nodiscard]] PageGrid page_grid(const OutlineTemplate& outlines, Paper paper);

[[nodiscard]] std::string template_pdf(const OutlineTemplate& outlines, Paper paper);

}  // namespace fadewright::report
