// A picture with rows of legend below it, and marks on the picture.
#pragma once

#include "fadewright/render/frame.h"
#include "fadewright/report/canvas.h"

#include <functional>
#include <string>
#include <vector>

namespace fadewright::report {

class OverlaySheet {
public:
    explicit OverlaySheet(const Picture& picture);

    [[nodiscard]] double text_px() const noexcept { return text_px_; }
    [[nodiscard]] double inner_width() const noexcept { return width_ - 2 * margin(); }

    // Drawn at (x, y) of its upper left corner, in order from the top.
    using Draw = std::function<void(Canvas& canvas, double x, double y)>;
    void row(double height, Draw draw);
    void title(const std::string& string);
    void paragraph(const std::string& string, double indent = 0);  // wrapped
    // Text beside a mark `indent` wide that is drawn at the row's upper left corner.
    void paragraph_beside(const std::string& string, double indent, const Draw& draw_beside);
    void gap();

    // On the picture, drawn after it and before the legend; positions in pixels of the picture.
    void mark_picture(Draw draw);

    [[nodiscard]] Picture render() const;

private:
    struct Row {
        double height;
        Draw draw;
    };
    [[nodiscard]] double margin() const noexcept { return text_px_; }

    const Picture& picture_;
    double width_, text_px_;
    std::vector<Row> rows_;
    std::vector<Draw> picture_marks_;
};

struct PixelPoint {
    double x, y;
};
[[nodiscard]] PixelPoint pixel_of(const render::Frame& frame, double x_mm, double y_mm);

void draw_circle(Canvas& canvas, PixelPoint at, double radius, Rgb ink, double line_px);
// A ring with a light rim, visible on any colour, and its number beside it if there is one.
void draw_mark(Canvas& canvas, PixelPoint at, double text_px, const std::string& number);
// Text on a light plate, centred at the point.
void draw_plate(Canvas& canvas, PixelPoint at, double text_px, const std::string& string, Rgb ink);

}  // namespace fadewright::report
