// A page of the booth sheet: blocks set below one another, a new page when the next block does not fit.
#pragma once

#include "booth_drawing.h"
#include "fadewright/report/pdf_sheet.h"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace fadewright::report {

inline constexpr double kBody_mm = 4.3;   // 12.2 points
inline constexpr double kKey_mm = 6.4;    // 18.1 points
inline constexpr double kTitle_mm = 8.5;  // 24 points
inline constexpr double kMargin_mm = 13;

// A cell of a row: where it begins or ends, and how it is set.
struct Cell {
    double x = 0;  // from the left margin; the right edge if it is set to the right
    std::string words;
    PdfText style{kBody_mm};
};

// Cut off with an ellipsis where it is too wide.
[[nodiscard]] std::string fitted_words(const PdfSheet& sheet, std::string words, const PdfText& style,
                                       double width);

class BoothPages {
public:
    BoothPages(Paper paper, const std::string& title, std::string foot);

    // Begins a page with a heading; continued pages repeat it.
    void page(const std::string& heading, const std::string& beside);
    void section(std::string_view words);
    void paragraph(std::string_view words, const PdfText& style = {kBody_mm}, double indent = 0);
    void ticked(std::string_view words, const PdfText& style = {kBody_mm});  // a box before the words
    [[nodiscard]] double ticked_height(std::string_view words, const PdfText& style = {kBody_mm}) const;
    void row(const std::vector<Cell>& cells, double height, bool box = false);
    void settings(const std::vector<Setting>& settings, double least_wide);  // side by side, values large
    void drawing(const Drawing& drawing);
    void beside_drawing(const Drawing& picture, const std::vector<std::string>& lines);
    void scale_bar(ShownUnits units);  // 100 mm, or 4 in
    void gap(double mm) { y_ += mm; }
    void room(double mm);  // for a block of so much

    [[nodiscard]] double width() const { return width_; }
    [[nodiscard]] double left() const { return kMargin_mm; }
    [[nodiscard]] double y() const { return y_; }
    [[nodiscard]] double left_over() const { return bottom_ - y_; }  // of the page
    [[nodiscard]] PdfSheet& sheet() { return sheet_; }
    [[nodiscard]] std::vector<std::string> wrapped(std::string_view words, const PdfText& style,
                                                   double width) const;
    [[nodiscard]] std::string fitted(std::string words, const PdfText& style, double width) const {
        return fitted_words(sheet_, std::move(words), style, width);
    }

    [[nodiscard]] std::string bytes();

private:
    void foot();
    void head(const std::string& heading, const std::string& beside);

    PdfSheet sheet_;
    std::string foot_;
    std::string heading_, beside_;
    double width_, bottom_, y_ = 0;
    int pages_ = 0;
};

}  // namespace fadewright::report
