// Maps of one value in false colours: film build and graininess.

#include "fadewright/colour/srgb.h"
#include "fadewright/film/graininess.h"
#include "fadewright/report/axes.h"
#include "fadewright/report/colour_naming.h"
#include "fadewright/report/format.h"
#include "fadewright/report/overlay.h"
#include "fadewright/report/phrases.h"
#include "overlay_sheet.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr Rgb kOutsidePanel{214, 214, 214};

// The ends of the colour map in lightness, hue and chroma; all inside sRGB.
constexpr double kDarkest_L = 15, kLightest_L = 93;
constexpr double kFirstHue = 305, kLastHue = 98;
constexpr double kMinChroma = 26, kMaxChroma = 66;

Picture false_colour(const assess::PanelMap& map, double full) {
    Picture picture(map.frame.width, map.frame.height, 3);
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x) {
            const double value = *map.values.pixel(x, y);
            const Rgb colour = value < 0 ? kOutsidePanel : colormap(value / full);
            std::uint8_t* p = picture.pixel(x, y);
            p[0] = colour.r;
            p[1] = colour.g;
            p[2] = colour.b;
        }
    return picture;
}

// The colour map as a bar with figures under it.
void add_scale(OverlaySheet& sheet, double full, double step, const std::string& unit) {
    const double size = sheet.text_px(), width = std::min(sheet.inner_width() - 6 * size, 40 * size);
    sheet.row(3.4 * size, [=](Canvas& canvas, double x, double y) {
        const int columns = static_cast<int>(width);
        for (int i = 0; i < columns; ++i)
            canvas.fill(std::floor(x) + i, y, 1, 1.5 * size, colormap((i + 0.5) / columns));
        canvas.frame(std::floor(x), y, columns, 1.5 * size, kFaintInk);
        const int count = static_cast<int>(std::lround(full / step));
        for (int i = 0; i <= count; ++i) {
            const double at = std::floor(x) + columns * (i * step / full);
            canvas.line({{at, y + 1.5 * size}, {at, y + 1.75 * size}}, kFaintInk, 2);
            const Align align = i == 0 ? Align::left : Align::centre;
            canvas.text(at, y + 2.5 * size, fmt::format("{:g}", i * step), {size, kInk, align});
        }
        canvas.text(std::floor(x) + columns + 2 * size, y + 0.75 * size, unit, {size});
    });
}

// End of the scale, rounded up to a step, and the step, both in the unit shown.
struct ScaleBar {
    double maximum, step, unit = 1;
};
ScaleBar scale_for(double maximum, double unit_size = 1) {
    const double top = (maximum > 0 ? maximum : 1) / unit_size;
    const double step = round_step({0, top}, 6);
    return {step * std::ceil(top / step - 1e-9), step, unit_size};
}

Picture map_sheet(const assess::PanelMap& map, const ScaleBar& scale, const std::string& unit,
                  const std::string& title, const std::string& heading,
                  const std::vector<std::string>& lines) {
    const Picture picture = false_colour(map, scale.maximum * scale.unit);
    OverlaySheet sheet(picture);
    if (map.max > 0)
        sheet.mark_picture([&](Canvas& canvas, double x, double y) {
            const PixelPoint at = pixel_of(map.frame, map.max_x.value, map.max_y.value);
            draw_mark(canvas, {x + at.x, y + at.y}, sheet.text_px(), "");
        });
    sheet.title(heading);
    sheet.gap();
    add_scale(sheet, scale.maximum, scale.step, unit);
    for (const std::string& line : lines) sheet.paragraph(line);
    sheet.gap();
    sheet.paragraph(title);
    return sheet.render();
}

std::string max_position_label(const assess::PanelMap& map, DisplayUnits units) {
    return fmt::format("{} from the left, {} up (ring)", units.text(map.max_x), units.text(map.max_y));
}

}  // namespace

namespace {

colour::Lab colormap_lab(double share) {
    const double t = std::clamp(share, 0.0, 1.0);
    const colour::LCh at{kDarkest_L + t * (kLightest_L - kDarkest_L),
                         kMinChroma + std::pow(t, 4) * (kMaxChroma - kMinChroma),
                         kFirstHue + t * (kLastHue - kFirstHue)};
    return colour::to_lab(at);
}

}  // namespace

Rgb colormap(double share) { return display_rgb(colormap_lab(share)); }

std::string colormap_label(double share) { return colour_name(colormap_lab(share)); }

Picture film_sheet(const assess::PanelMap& film, const std::string& coat, const std::string& title,
                   DisplayUnits units) {
    const auto um = [units](double value) { return units.text(Micrometres{value}, 1); };
    const std::string numbers =
        film.max > 0 ? fmt::format("maximum {} at {}; mean {}, minimum {}", um(film.max),
                                   max_position_label(film, units), um(film.mean), um(film.min))
                     : "no paint reaches the panel";
    return map_sheet(film, scale_for(film.max, units.unit_size<Micrometres>()),
                     fmt::format("{} dry", units.unit_name<Micrometres>()), title,
                     fmt::format("Film build of '{}'", coat), {numbers});
}

Picture graininess_sheet(const assess::PanelMap& graininess, Millimetres viewing_distance,
                         const std::string& title, DisplayUnits units) {
    const std::string numbers =
        graininess.max > 0
            ? fmt::format("maximum {:.2f} at {}: {}", graininess.max, max_position_label(graininess, units),
                          graininess_label(film::grade_graininess(graininess.max)))
            : "no coat dries as dots: not grainy";
    return map_sheet(
        graininess, scale_for(std::max(graininess.max, 1.0)), "ΔL*", title,
        fmt::format("Graininess seen from {}", units.viewing_distance(viewing_distance)),
        {numbers, "below 0.3 invisible, to 1 just visible, to 3 grainy, above coarse (uncalibrated)"});
}

}  // namespace fadewright::report
