#include "pango_text.h"

namespace fadewright::report {

void set_ink(cairo_t* cairo, Rgb ink) {
    cairo_set_source_rgb(cairo, ink.r / 255.0, ink.g / 255.0, ink.b / 255.0);
}

Layout make_layout(cairo_t* cairo, std::string_view string, double size, Weight weight) {
    Layout layout(pango_cairo_create_layout(cairo));
    const std::unique_ptr<PangoFontDescription, Unref> font(pango_font_description_new());
    pango_font_description_set_family(font.get(), "DejaVu Sans");
    pango_font_description_set_absolute_size(font.get(), size * PANGO_SCALE);
    pango_font_description_set_weight(font.get(),
                                      weight == Weight::bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout.get(), font.get());
    pango_layout_set_text(layout.get(), string.data(), static_cast<int>(string.size()));
    return layout;
}

std::pair<double, double> layout_size(PangoLayout* layout) {
    int w = 0, h = 0;
    pango_layout_get_size(layout, &w, &h);
    return {static_cast<double>(w) / PANGO_SCALE, static_cast<double>(h) / PANGO_SCALE};
}

}  // namespace fadewright::report
