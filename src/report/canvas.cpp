#include "fadewright/report/canvas.h"

#include "pango_text.h"

#include <cmath>

namespace fadewright::report {
namespace {

double text_left(double x, double width, Align align) {
    switch (align) {
        case Align::centre:
            return x - width / 2;
        case Align::right:
            return x - width;
        case Align::left:
            break;
    }
    return x;
}

}  // namespace

struct Canvas::Surface {
    std::unique_ptr<cairo_surface_t, Unref> surface;
    std::unique_ptr<cairo_t, Unref> cairo;
};

Canvas::Canvas(int width, int height, Rgb background) : surface_(std::make_unique<Surface>()) {
    surface_->surface.reset(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
    surface_->cairo.reset(cairo_create(surface_->surface.get()));
    fill(0, 0, width, height, background);
}

Canvas::~Canvas() = default;

int Canvas::width() const { return cairo_image_surface_get_width(surface_->surface.get()); }
int Canvas::height() const { return cairo_image_surface_get_height(surface_->surface.get()); }

void Canvas::fill(double x, double y, double w, double h, Rgb ink) {
    cairo_t* cairo = surface_->cairo.get();
    cairo_set_antialias(cairo, CAIRO_ANTIALIAS_NONE);
    cairo_rectangle(cairo, x, y, w, h);
    set_ink(cairo, ink);
    cairo_fill(cairo);
    cairo_set_antialias(cairo, CAIRO_ANTIALIAS_DEFAULT);
}

void Canvas::frame(double x, double y, double w, double h, Rgb ink, double line_px) {
    cairo_t* cairo = surface_->cairo.get();
    cairo_set_line_width(cairo, line_px);
    cairo_rectangle(cairo, x + line_px / 2, y + line_px / 2, w - line_px, h - line_px);
    set_ink(cairo, ink);
    cairo_stroke(cairo);
}

void Canvas::line(const std::vector<std::pair<double, double>>& points, Rgb ink, double line_px,
                  bool dashed) {
    cairo_t* cairo = surface_->cairo.get();
    const double dashes[] = {6.0, 5.0};
    cairo_set_dash(cairo, dashes, dashed ? 2 : 0, 0);
    cairo_set_line_width(cairo, line_px);
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    for (const auto& [x, y] : points) cairo_line_to(cairo, x, y);
    set_ink(cairo, ink);
    cairo_stroke(cairo);
    cairo_set_dash(cairo, dashes, 0, 0);
}

double Canvas::text(double x, double y, std::string_view string, const TextStyle& style) {
    cairo_t* cairo = surface_->cairo.get();
    const Layout layout = make_layout(cairo, string, style.size_px, style.weight);
    const auto [w, h] = layout_size(layout.get());
    set_ink(cairo, style.ink);
    cairo_move_to(cairo, text_left(x, w, style.align), y - h / 2);
    pango_cairo_show_layout(cairo, layout.get());
    cairo_new_path(cairo);
    return w;
}

void Canvas::text_to_fit(double x, double y, double width, std::string_view string, TextStyle style) {
    while (style.size_px > kMinText_px && text_width(string, style) > width) style.size_px -= 1;
    text(x, y, string, style);
}

double Canvas::text_width(std::string_view string, const TextStyle& style) const {
    return layout_size(make_layout(surface_->cairo.get(), string, style.size_px, style.weight).get()).first;
}

std::vector<std::string> Canvas::wrap(std::string_view string, const TextStyle& style, double width) const {
    return lines_of(make_layout(surface_->cairo.get(), string, style.size_px, style.weight).get(), width, 0);
}

void Canvas::vertical_text(double x, double y, std::string_view string, const TextStyle& style) {
    cairo_t* cairo = surface_->cairo.get();
    cairo_save(cairo);
    cairo_translate(cairo, x, y);
    cairo_rotate(cairo, -std::acos(0.0));
    text(0, 0, string, style);
    cairo_restore(cairo);
}

void Canvas::draw_picture(double x, double y, const Picture& picture) {
    copy_picture(picture, surface_->surface.get(), static_cast<int>(std::lround(x)),
                 static_cast<int>(std::lround(y)));
}

Picture Canvas::picture() const { return picture_of(surface_->surface.get()); }

}  // namespace fadewright::report
