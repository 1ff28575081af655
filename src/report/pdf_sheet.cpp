#include "fadewright/report/pdf_sheet.h"

#include "fadewright/base/contract.h"
#include "pango_text.h"

#include <cairo-pdf.h>

#include <algorithm>

namespace fadewright::report {
namespace {

constexpr double kPointsPerMm = 72 / 25.4;

cairo_status_t append(void* text, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

double pt(double mm) { return mm * kPointsPerMm; }

// The page is drawn in points, which fonts are hinted for; only places are in millimetres.
Layout make_layout(cairo_t* cairo, std::string_view string, const PdfText& style) {
    return make_layout(cairo, string, pt(style.size_mm), style.weight);
}

}  // namespace

struct PdfSheet::Surface {
    std::string pdf;
    std::unique_ptr<cairo_surface_t, Unref> surface;
    std::unique_ptr<cairo_t, Unref> cairo;
};

PdfSheet::PdfSheet(Paper paper, const std::string& title) : surface_(std::make_unique<Surface>()) {
    const PaperSize size = size_of(paper);
    surface_->surface.reset(
        cairo_pdf_surface_create_for_stream(append, &surface_->pdf, pt(size.width_mm), pt(size.height_mm)));
    // A fixed date, so that the same sheet is the same file.
    cairo_pdf_surface_set_metadata(surface_->surface.get(), CAIRO_PDF_METADATA_CREATE_DATE,
                                   "2000-01-01T00:00:00Z");
    cairo_pdf_surface_set_metadata(surface_->surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    cairo_pdf_surface_set_metadata(surface_->surface.get(), CAIRO_PDF_METADATA_CREATOR, "fadewright");
    surface_->cairo.reset(cairo_create(surface_->surface.get()));
}

PdfSheet::~PdfSheet() = default;

void PdfSheet::fill(double x, double y, double w, double h, Rgb ink) {
    cairo_t* cairo = surface_->cairo.get();
    cairo_rectangle(cairo, pt(x), pt(y), pt(w), pt(h));
    set_ink(cairo, ink);
    cairo_fill(cairo);
}

void PdfSheet::frame(double x, double y, double w, double h, Rgb ink, double line_mm) {
    cairo_t* cairo = surface_->cairo.get();
    cairo_set_line_width(cairo, pt(line_mm));
    cairo_rectangle(cairo, pt(x), pt(y), pt(w), pt(h));
    set_ink(cairo, ink);
    cairo_stroke(cairo);
}

void PdfSheet::line(const std::vector<std::pair<double, double>>& points, Rgb ink, double line_mm,
                    bool dashed) {
    cairo_t* cairo = surface_->cairo.get();
    const double dashes[] = {pt(1.5), pt(1.2)};
    cairo_set_dash(cairo, dashes, dashed ? 2 : 0, 0);
    cairo_set_line_width(cairo, pt(line_mm));
    for (const auto& [x, y] : points) cairo_line_to(cairo, pt(x), pt(y));
    set_ink(cairo, ink);
    cairo_stroke(cairo);
    cairo_set_dash(cairo, dashes, 0, 0);
}

double PdfSheet::text(double x, double y, std::string_view string, const PdfText& style) {
    cairo_t* cairo = surface_->cairo.get();
    const Layout layout = make_layout(cairo, string, style);
    const auto [w, h] = layout_size(layout.get());
    const double shift = style.align == Align::centre ? w / 2 : style.align == Align::right ? w : 0;
    set_ink(cairo, style.ink);
    cairo_move_to(cairo, pt(x) - shift, pt(y) - h / 2);
    pango_cairo_show_layout(cairo, layout.get());
    cairo_new_path(cairo);
    return w / kPointsPerMm;
}

double PdfSheet::text_width(std::string_view string, const PdfText& style) const {
    return layout_size(make_layout(surface_->cairo.get(), string, style).get()).first / kPointsPerMm;
}

std::vector<std::string> PdfSheet::wrap(std::string_view string, const PdfText& style, double width) const {
    return lines_of(make_layout(surface_->cairo.get(), string, style).get(), pt(width), 0);
}

std::string PdfSheet::ellipsize(std::string_view string, const PdfText& style, double width) const {
    std::string line(string);
    std::replace(line.begin(), line.end(), '\n', ' ');
    return lines_of(make_layout(surface_->cairo.get(), line, style).get(), pt(width), 1).front();
}

void PdfSheet::picture(double x, double y, double w, double h, const Picture& picture) {
    FW_EXPECTS(picture.channels == 3 && picture.width > 0 && picture.height > 0);
    const std::unique_ptr<cairo_surface_t, Unref> image(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, picture.width, picture.height));
    copy_picture(picture, image.get(), 0, 0);
    cairo_t* cairo = surface_->cairo.get();
    cairo_save(cairo);
    cairo_translate(cairo, pt(x), pt(y));
    cairo_scale(cairo, pt(w) / picture.width, pt(h) / picture.height);
    cairo_set_source_surface(cairo, image.get(), 0, 0);
    cairo_paint(cairo);
    cairo_restore(cairo);
}

void PdfSheet::closed_line(const std::vector<std::pair<double, double>>& corners, Rgb ink, double line_mm,
                           bool dashed, const Window& window) {
    cairo_t* cairo = surface_->cairo.get();
    const double dashes[] = {pt(4), pt(2)};
    cairo_save(cairo);
    cairo_rectangle(cairo, pt(window.x), pt(window.y), pt(window.w), pt(window.h));
    cairo_clip(cairo);
    cairo_set_dash(cairo, dashes, dashed ? 2 : 0, 0);
    cairo_set_line_width(cairo, pt(line_mm));
    for (const auto& [x, y] : corners) cairo_line_to(cairo, pt(x), pt(y));
    cairo_close_path(cairo);
    set_ink(cairo, ink);
    cairo_stroke(cairo);
    cairo_restore(cairo);
}

void PdfSheet::next_page() { cairo_show_page(surface_->cairo.get()); }

std::string PdfSheet::bytes() {
    FW_EXPECTS(surface_->cairo != nullptr);
    cairo_show_page(surface_->cairo.get());
    surface_->cairo.reset();
    cairo_surface_finish(surface_->surface.get());
    FW_ENSURES(cairo_surface_status(surface_->surface.get()) == CAIRO_STATUS_SUCCESS);
    surface_->surface.reset();
    return std::move(surface_->pdf);
}

}  // namespace fadewright::report
