// Maps of one value in false colours: film and grain.

#include "fadewright/colour/srgb.h"
#include "fadewright/colour/words.h"
#include "fadewright/film/grain.h"
#include "fadewright/report/axes.h"
#include "fadewright/report/overlay.h"
#include "fadewright/report/shown.h"
#include "overlay_sheet.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr Rgb kBeside{214, 214, 214};  // beside the panel

// The ramp's ends and middle in lightness, chroma and hue; all inside sRGB.
constexpr double kDarkest_L = 15, kLightest_L = 93;
constexpr double kFirstHue = 305, kLastHue = 98;
constexpr double kLeast_C = 26, kMost_C = 66;

Picture in_colours(const render::PanelMap& map, double full) {
    Picture picture(map.frame.width, map.frame.height, 3);
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x) {
            const double value = *map.values.pixel(x, y);
            const Rgb colour = value < 0 ? kBeside : ramp(value / full);
            std::uint8_t* p = picture.pixel(x, y);
            p[0] = colour.r;
            p[1] = colour.g;
            p[2] = colour.b;
        }
    return picture;
}

// The ramp as a bar with figures under it.
void add_scale(OverlaySheet& sheet, double full, double step, const std::string& unit) {
    const double size = sheet.text_px(), width = std::min(sheet.inner_width() - 6 * size, 40 * size);
    sheet.row(3.4 * size, [=](Canvas& canvas, double x, double y) {
        const int columns = static_cast<int>(width);
        for (int i = 0; i < columns; ++i)
            canvas.fill(std::floor(x) + i, y, 1, 1.5 * size, ramp((i + 0.5) / columns));
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

// A round end of the scale that holds the value, and its step, both in `one`s of it.
struct Scale {
    double full, step, one = 1;
};
Scale scale_for(double most, double one = 1) {
    const double top = (most > 0 ? most : 1) / one;
    const double step = round_step({0, top}, 6);
    return {step * std::ceil(top / step - 1e-9), step, one};
}

Picture map_sheet(const render::PanelMap& map, const Scale& scale, const std::string& unit,
                  const std::string& title, const std::string& heading,
                  const std::vector<std::string>& lines) {
    const Picture picture = in_colours(map, scale.full * scale.one);
    OverlaySheet sheet(picture);
    if (map.most > 0)
        sheet.over_picture([&](Canvas& canvas, double x, double y) {
            const PixelPoint at = pixel_of(map.frame, map.most_x.value, map.most_y.value);
            draw_mark(canvas, {x + at.x, y + at.y}, sheet.text_px(), "");
        });
    sheet.title(heading);
    sheet.gap();
    add_scale(sheet, scale.full, scale.step, unit);
    for (const std::string& line : lines) sheet.words(line);
    sheet.gap();
    sheet.words(title);
    return sheet.drawn();
}

std::string where(const render::PanelMap& map, ShownUnits units) {
    return fmt::format("{} from the left, {} up (ring)", units.text(map.most_x), units.text(map.most_y));
}

}  // namespace

namespace {

colour::Lab ramp_at(double share) {
    const double t = std::clamp(share, 0.0, 1.0);
    const colour::LCh at{kDarkest_L + t * (kLightest_L - kDarkest_L),
                         kLeast_C + std::pow(t, 4) * (kMost_C - kLeast_C),
                         kFirstHue + t * (kLastHue - kFirstHue)};
    return colour::to_lab(at);
}

}  // namespace

Rgb ramp(double share) { return shown(ramp_at(share)); }

std::string ramp_words(double share) { return colour::colour_words(ramp_at(share)); }

Picture film_sheet(const render::PanelMap& film, const std::string& coat, const std::string& title,
                   ShownUnits units) {
    const auto um = [units](double value) { return units.text(Micrometres{value}, 1); };
    const std::string numbers = film.most > 0 ? fmt::format("most {} at {}; mean {}, least {}", um(film.most),
                                                            where(film, units), um(film.mean), um(film.least))
                                              : "this coat lays nothing on the panel";
    return map_sheet(film, scale_for(film.most, units.one<Micrometres>()),
                     fmt::format("{} dry", units.name<Micrometres>()), title,
                     fmt::format("Film of '{}'", coat), {numbers});
}

Picture grain_sheet(const render::PanelMap& grain, Millimetres viewing_distance, const std::string& title,
                    ShownUnits units) {
    const std::string numbers = grain.most > 0
                                    ? fmt::format("most {:.2f} at {}: {}", grain.most, where(grain, units),
                                                  film::grain_words(grain.most))
                                    : "no coat dries as dots: nothing grainy";
    return map_sheet(
        grain, scale_for(std::max(grain.most, 1.0)), "steps of L*", title,
        fmt::format("Visible grain from {}", units.distance(viewing_distance)),
        {numbers, "below 0.3 invisible, to 1 just visible, to 3 grainy, above coarse (uncalibrated)"});
}

}  // namespace fadewright::report
