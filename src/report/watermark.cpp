// A watermark that cannot be cropped away and leaves the colours visible.

#include "fadewright/report/proof.h"
#include "pango_text.h"
#include "proof_text.h"

#include <algorithm>
#include <cmath>

namespace fadewright::report {
namespace {

enum class Part { letters, outlines };

// Coverage of each pixel by the letters or by their outlines, 0 to 255: slanted rows of the text.
Image<std::uint8_t> watermark_mask(int width, int height, Part part) {
    constexpr double kSlant = -0.35;  // radians, upwards to the right
    constexpr double kSize = 0.034, kRows = 5.5,
                     kRim = 0.06;  // size per longest side; pitch of rows and outline width in sizes
    const std::unique_ptr<cairo_surface_t, Unref> mask(
        cairo_image_surface_create(CAIRO_FORMAT_A8, width, height));
    const std::unique_ptr<cairo_t, Unref> cairo(cairo_create(mask.get()));
    const double size = std::max(9.0, kSize * std::max(width, height));
    const Layout layout = make_layout(cairo.get(), kWatermarkText, size, Weight::bold);
    const double wide = layout_size(layout.get()).first + 2 * size;
    const double reach = std::hypot(width, height);
    cairo_translate(cairo.get(), width / 2.0, height / 2.0);
    cairo_rotate(cairo.get(), kSlant);
    cairo_set_line_width(cairo.get(), kRim * size);
    int row = 0;
    for (double y = -reach / 2; y < reach / 2; y += kRows * size, ++row)
        for (double x = -reach / 2 - (row % 2) * wide / 2; x < reach / 2; x += wide) {
            cairo_move_to(cairo.get(), x, y);
            pango_cairo_layout_path(cairo.get(), layout.get());
            if (part == Part::letters)
                cairo_fill(cairo.get());
            else
                cairo_stroke(cairo.get());
        }
    cairo_surface_flush(mask.get());
    Image<std::uint8_t> cover(width, height, 1);
    const int stride = cairo_image_surface_get_stride(mask.get());
    const unsigned char* pixels = cairo_image_surface_get_data(mask.get());
    for (int y = 0; y < height; ++y)
        std::copy_n(pixels + static_cast<std::ptrdiff_t>(y) * stride, width, cover.row(y));
    return cover;
}

}  // namespace

Picture add_watermark(const Picture& picture) {
    constexpr double kLetterOpacity = 0.28, kOutlineOpacity = 0.40;
    const Image<std::uint8_t> letters = watermark_mask(picture.width, picture.height, Part::letters);
    const Image<std::uint8_t> outlines = watermark_mask(picture.width, picture.height, Part::outlines);
    Picture out = picture;
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x) {
            const double white = kLetterOpacity * *letters.pixel(x, y) / 255.0;
            const double black = kOutlineOpacity * *outlines.pixel(x, y) / 255.0;
            std::uint8_t* p = out.pixel(x, y);
            for (int c = 0; c < 3; ++c)
                p[c] = static_cast<std::uint8_t>(std::lround((p[c] + white * (255 - p[c])) * (1 - black)));
        }
    return out;
}

}  // namespace fadewright::report
