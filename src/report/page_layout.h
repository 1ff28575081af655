// A page of the booth sheet: blocks below one another, a new page when the next block does not fit.
#pragma once

#include "fadewright/report/pdf_sheet.h"
#include "pass_drawing.h"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace fadewright::report {

inline constexpr double kBody_mm = 4.3;   // 12.2 points
inline constexpr double kKey_mm = 6.4;    // 18.1 points
inline constexpr double kTitle_mm = 8.5;  // 24 points
inline constexpr double kMargin_mm = 13;

// A cell of a row: its text, its left or right end, and its style.
struct Cell {
    double x = 0;  // from the left margin; the right end if aligned right
    std::string text;
    PdfText style{kBody_mm};
};

class PageLayout {
public:
    // The lines of the footer stand at the foot of every page, the last of them beside the page number.
    PageLayout(Paper paper, const std::string& title, std::vector<std::string> footer);

    // Begins a page with a heading; continued pages repeat it.
    void begin_page(const std::string& heading, const std::string& side_note);
    void section(std::string_view text);
    void paragraph(std::string_view text, const PdfText& style = {kBody_mm}, double indent = 0);
    void checkbox(std::string_view text, const PdfText& style = {kBody_mm});  // a box before the text
    [[nodiscard]] double checkbox_height(std::string_view text, const PdfText& style = {kBody_mm}) const;
    void row(const std::vector<Cell>& cells, double height, bool box = false);
    void settings(const std::vector<Setting>& settings, double min_width);  // side by side, values large
    void drawing(const Drawing& drawing);
    void drawing_with_text(const Drawing& picture, const std::vector<std::string>& lines);
    void scale_bar(DisplayUnits units);  // 100 mm, or 4 in
    void gap(double mm) { y_ += mm; }
    void ensure_room(double mm);  // for a block of that height

    [[nodiscard]] double width() const { return width_; }
    [[nodiscard]] double left() const { return kMargin_mm; }
    [[nodiscard]] double y() const { return y_; }
    [[nodiscard]] double remaining_height() const { return bottom_ - y_; }  // of the page
    [[nodiscard]] PdfSheet& sheet() { return sheet_; }

    [[nodiscard]] std::string bytes();

private:
    void draw_footer();
    void draw_heading(const std::string& heading, const std::string& side_note);

    PdfSheet sheet_;
    std::vector<std::string> footer_;
    std::string heading_, side_note_;
    double width_, bottom_, y_ = 0;
    int pages_ = 0;
};

}  // namespace fadewright::report
