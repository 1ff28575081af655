#include "pango_text.h"

#include "fadewright/base/strings.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>

namespace fadewright::report {
namespace {

// Where the line is cut off, in bytes of the text, if it is.
std::optional<std::size_t> ellipsis_offset(const PangoLayoutLine* line) {
    for (const GSList* each = line->runs; each != nullptr; each = each->next) {
        const PangoItem* item = static_cast<const PangoLayoutRun*>(each->data)->item;
        if ((item->analysis.flags & PANGO_ANALYSIS_FLAG_IS_ELLIPSIS) != 0)
            return static_cast<std::size_t>(item->offset);
    }
    return std::nullopt;
}

// Units such as mm/s stay whole: no break after a slash.
void keep_units_whole(PangoLayout* layout) {
    const std::string_view text = pango_layout_get_text(layout);
    const std::unique_ptr<PangoAttrList, Unref> attributes(pango_attr_list_new());
    for (std::size_t at = text.find('/'); at != std::string_view::npos && at + 1 < text.size();
         at = text.find('/', at + 1)) {
        PangoAttribute* whole = pango_attr_allow_breaks_new(FALSE);
        const auto next_bytes = static_cast<guchar>(g_utf8_skip[static_cast<guchar>(text[at + 1])]);
        whole->start_index = static_cast<guint>(at);
        whole->end_index = whole->start_index + 1 + next_bytes;
        pango_attr_list_insert(attributes.get(), whole);
    }
    pango_layout_set_attributes(layout, attributes.get());
}

std::uint32_t* pixel_row(cairo_surface_t* surface, int row) {
    const std::ptrdiff_t stride = cairo_image_surface_get_stride(surface);
    return reinterpret_cast<std::uint32_t*>(cairo_image_surface_get_data(surface) + row * stride);
}

}  // namespace

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

std::vector<std::string> lines_of(PangoLayout* layout, double width, int max_lines) {
    pango_layout_set_width(layout, std::max(0, pango_units_from_double(width)));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    keep_units_whole(layout);
    if (max_lines > 0) {
        pango_layout_set_height(layout, -max_lines);
        pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
    }
    const std::string_view text = pango_layout_get_text(layout);
    std::vector<std::string> lines;
    for (const GSList* each = pango_layout_get_lines_readonly(layout); each != nullptr; each = each->next) {
        const auto* line = static_cast<const PangoLayoutLine*>(each->data);
        const auto begin = static_cast<std::size_t>(line->start_index);
        if (const auto end = ellipsis_offset(line))
            lines.push_back(std::string(text.substr(begin, *end - begin)) + "…");
        else
            lines.emplace_back(trim(text.substr(begin, static_cast<std::size_t>(line->length))));
    }
    return lines;
}

void copy_picture(const Picture& picture, cairo_surface_t* surface, int left, int top) {
    cairo_surface_flush(surface);
    const int width = cairo_image_surface_get_width(surface),
              height = cairo_image_surface_get_height(surface);
    for (int y = std::max(0, -top); y < std::min(picture.height, height - top); ++y) {
        std::uint32_t* row = pixel_row(surface, top + y);
        for (int x = std::max(0, -left); x < std::min(picture.width, width - left); ++x) {
            const std::uint8_t* p = picture.pixel(x, y);
            row[left + x] = (std::uint32_t{p[0]} << 16) | (std::uint32_t{p[1]} << 8) | p[2];
        }
    }
    cairo_surface_mark_dirty(surface);
}

Picture picture_of(cairo_surface_t* surface) {
    cairo_surface_flush(surface);
    Picture picture(cairo_image_surface_get_width(surface), cairo_image_surface_get_height(surface), 3);
    for (int y = 0; y < picture.height; ++y) {
        const std::uint32_t* from = pixel_row(surface, y);
        std::uint8_t* to = picture.row(y);
        for (int x = 0; x < picture.width; ++x)
            for (const int shift : {16, 8, 0}) *to++ = static_cast<std::uint8_t>(from[x] >> shift);
    }
    return picture;
}

}  // namespace fadewright::report
