// Shared by drawing on screen sheets and on paper: handles of cairo and Pango, the layout of text, and pictures
// as cairo stores them.
#pragma once

#include "fadewright/report/canvas.h"

#include <pango/pangocairo.h>

#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace fadewright::report {

struct Unref {
    void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
    void operator()(cairo_t* c) const { cairo_destroy(c); }
    void operator()(PangoLayout* l) const { g_object_unref(l); }
    void operator()(PangoAttrList* a) const { pango_attr_list_unref(a); }
    void operator()(PangoFontDescription* f) const { pango_font_description_free(f); }
};

using Layout = std::unique_ptr<PangoLayout, Unref>;

void set_ink(cairo_t* cairo, Rgb ink);

// Sizes are in the units of the surface: pixels of a picture, points of a page.
[[nodiscard]] Layout make_layout(cairo_t* cairo, std::string_view string, double size, Weight weight);
[[nodiscard]] std::pair<double, double> layout_size(PangoLayout* layout);

// The lines of a layout's text, broken at that width: between words, after hyphens, or within a word that is
// longer. Of at most
// `max_lines` (0: any number) the last ends with an ellipsis if there is more.
[[nodiscard]] std::vector<std::string> lines_of(PangoLayout* layout, double width, int max_lines);

// Surfaces are of the format RGB24, pictures of 3 channels or 4. What is beyond the surface is left out.
void copy_picture(const Picture& picture, cairo_surface_t* surface, int left, int top);
[[nodiscard]] Picture picture_of(cairo_surface_t* surface);

}  // namespace fadewright::report
