// Sheets of paper of true size, as PDF: rectangles, lines, pictures and real text, in millimetres from the
// upper left.
//
// Drawn with cairo and Pango in the DejaVu Sans family, which is embedded. The page box is the paper's size
// in points (72 to the inch) and nothing is scaled, so that a millimetre drawn is a millimetre printed, if
// it is printed at actual size. The same drawing gives the same bytes (no date is written).
//
// Checks     tests/report/blank_card_test.cpp, tests/app/proof_test.cpp, tests/app/outline_template_test.cpp
#pragma once

#include "fadewright/report/canvas.h"
#include "fadewright/report/paper.h"

#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace fadewright::report {

struct PdfText {
    double size_mm = 3.2;  // of the em; capitals are about 0.73 of it
    Rgb ink = kInk;
    Align align = Align::left;
    Weight weight = Weight::normal;
};

struct Window {
    double x, y, w, h;
};

class PdfSheet {
public:
    PdfSheet(Paper paper, const std::string& title);
    ~PdfSheet();
    PdfSheet(const PdfSheet&) = delete;
    PdfSheet& operator=(const PdfSheet&) = delete;

    void fill(double x, double y, double w, double h, Rgb ink);
    void frame(double x, double y, double w, double h, Rgb ink, double line_mm = 0.2);
    void line(const std::vector<std::pair<double, double>>& points, Rgb ink, double line_mm = 0.2,
              bool dashed = false);
    // y is the centre of the text's line. Returns the width drawn.
    double text(double x, double y, std::string_view string, const PdfText& style);
    [[nodiscard]] double text_width(std::string_view string, const PdfText& style) const;
    // The lines of the text at that width; the text on one line, cut off with an ellipsis if it is longer.
    [[nodiscard]] std::vector<std::string> wrap(std::string_view string, const PdfText& style,
                                                double width) const;
    [[nodiscard]] std::string ellipsize(std::string_view string, const PdfText& style, double width) const;
    // A picture of 3 channels drawn in that rectangle, without loss; its pixels are sRGB.
    void picture(double x, double y, double w, double h, const Picture& picture);
    // A closed line, clipped to the window.
    void closed_line(const std::vector<std::pair<double, double>>& corners, Rgb ink, double line_mm,
                     bool dashed, const Window& window);

    void next_page();  // of the same size
    // Ends the last page; nothing may be drawn afterwards.
    [[nodiscard]] std::string bytes();

private:
    struct Surface;
    std::unique_ptr<Surface> surface_;
};

}  // namespace fadewright::report
