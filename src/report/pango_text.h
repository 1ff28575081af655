// Shared by drawing on screen sheets and on paper: handles of cairo and Pango, and the layout of a line of
// text.
#pragma once

#include "fadewright/report/canvas.h"

#include <pango/pangocairo.h>

#include <memory>
#include <string_view>
#include <utility>

namespace fadewright::report {

struct Unref {
    void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
    void operator()(cairo_t* c) const { cairo_destroy(c); }
    void operator()(PangoLayout* l) const { g_object_unref(l); }
    void operator()(PangoFontDescription* f) const { pango_font_description_free(f); }
};

using Layout = std::unique_ptr<PangoLayout, Unref>;

void set_ink(cairo_t* cairo, Rgb ink);

// Sizes are in the units of the surface: pixels of a picture, points of a page.
[[nodiscard]] Layout make_layout(cairo_t* cairo, std::string_view string, double size, Weight weight);
[[nodiscard]] std::pair<double, double> layout_size(PangoLayout* layout);

}  // namespace fadewright::report
