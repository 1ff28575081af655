#include "overlay_sheet.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::report {
namespace {

constexpr double kMinWidth_px = 960;
constexpr double kLine = 1.4;  // of the size of the text

}  // namespace

OverlaySheet::OverlaySheet(const Picture& picture)
    : picture_(picture),
      width_(std::max(kMinWidth_px, static_cast<double>(picture.width))),
      text_px_(std::clamp(std::round(width_ / 62), 16.0, 40.0)) {}

void OverlaySheet::row(double height, Draw draw) { rows_.push_back({height, std::move(draw)}); }

void OverlaySheet::title(const std::string& string) {
    const double size = 1.25 * text_px_, room = inner_width();
    row(kLine * size, [=](Canvas& canvas, double x, double y) {
        canvas.text_to_fit(x, y + kLine * size / 2, room, string, {size, kInk, Align::left, Weight::bold});
    });
}

void OverlaySheet::paragraph(const std::string& string, double indent) {
    paragraph_beside(string, indent, [](Canvas&, double, double) {});
}

void OverlaySheet::paragraph_beside(const std::string& string, double indent, const Draw& draw_beside) {
    const std::vector<std::string> lines = Canvas(8, 8).wrap(string, {text_px_}, inner_width() - indent);
    const double size = text_px_;
    row(kLine * size * static_cast<double>(std::max<std::size_t>(lines.size(), 1)),
        [=](Canvas& canvas, double x, double y) {
            draw_beside(canvas, x, y);
            for (std::size_t i = 0; i < lines.size(); ++i)
                canvas.text(x + indent, y + kLine * size * (static_cast<double>(i) + 0.5), lines[i], {size});
        });
}

void OverlaySheet::gap() {
    row(0.6 * text_px_, [](Canvas&, double, double) {});
}

void OverlaySheet::mark_picture(Draw draw) { picture_marks_.push_back(std::move(draw)); }

Picture OverlaySheet::render() const {
    double height = picture_.height + 2 * margin();
    for (const Row& row : rows_) height += row.height;
    Canvas canvas(static_cast<int>(width_), static_cast<int>(std::ceil(height)));
    const double left = std::floor((width_ - picture_.width) / 2);
    canvas.draw_picture(left, 0, picture_);
    for (const Draw& draw : picture_marks_) draw(canvas, left, 0);
    // The legend covers marks that extend beyond the picture.
    canvas.fill(0, picture_.height, width_, height - picture_.height, kSheetColour);
    double y = picture_.height + margin();
    for (const Row& row : rows_) {
        row.draw(canvas, margin(), y);
        y += row.height;
    }
    return canvas.picture();
}

PixelPoint pixel_of(const render::Frame& frame, double x_mm, double y_mm) {
    return {(x_mm - frame.left_mm) / frame.mm_per_px, (frame.top_mm - y_mm) / frame.mm_per_px};
}

void draw_circle(Canvas& canvas, PixelPoint at, double radius, Rgb ink, double line_px) {
    constexpr int kCorners = 48;
    std::vector<std::pair<double, double>> points;
    for (int i = 0; i <= kCorners; ++i) {
        const double angle = 2 * std::numbers::pi * i / kCorners;
        points.emplace_back(at.x + radius * std::cos(angle), at.y + radius * std::sin(angle));
    }
    canvas.line(points, ink, line_px);
}

void draw_plate(Canvas& canvas, PixelPoint at, double text_px, const std::string& string, Rgb ink) {
    const double width =
        canvas.text_width(string, {text_px, ink, Align::centre, Weight::bold}) + 0.5 * text_px;
    const double height = 1.25 * text_px;
    const double x = std::round(std::clamp(at.x - width / 2, 0.0, canvas.width() - width));
    const double y = std::round(std::clamp(at.y - height / 2, 0.0, canvas.height() - height));
    canvas.fill(x, y, width, height, {255, 255, 255});
    canvas.frame(x, y, width, height, ink, 1.5);
    canvas.text(x + width / 2, y + height / 2, string, {text_px, ink, Align::centre, Weight::bold});
}

void draw_mark(Canvas& canvas, PixelPoint at, double text_px, const std::string& number) {
    const double radius = 0.6 * text_px;
    draw_circle(canvas, at, radius, {255, 255, 255}, 0.34 * text_px);
    draw_circle(canvas, at, radius, kInk, 0.16 * text_px);
    if (!number.empty())
        draw_plate(canvas, {at.x + 1.5 * text_px, at.y - 1.1 * text_px}, 0.9 * text_px, number, kInk);
}

}  // namespace fadewright::report
