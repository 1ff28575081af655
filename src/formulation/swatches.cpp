#include "fadewright/formulation/swatches.h"

#include "fadewright/formulation/drawdown.h"
#include "fadewright/paint/mix.h"

#include <array>

namespace fadewright::formulation {
namespace {

constexpr Micrometres kOpaqueFilm{2000};  // at full hiding for any paint with flakes

std::vector<film::MultiAngleColour> colours_at_angles(const paint::MixedPaint& mix, Micrometres one_coat,
                                                      const film::Colorimeter& colorimeter) {
    const auto chart_white = colour::Reflectance::constant(kWhiteChart);
    const auto chart_black = colour::Reflectance::constant(kBlackChart);
    const auto appearance = [&](Micrometres film, const colour::Reflectance& ground) {
        const film::Coat coat{&mix, film, {}};
        return film::multi_angle_colour({&coat, 1}, ground, colorimeter);
    };
    return {appearance(kOpaqueFilm, chart_black), appearance(one_coat, chart_white),
            appearance(3.0 * one_coat, chart_white), appearance(one_coat, chart_black),
            appearance(3.0 * one_coat, chart_black)};
}

}  // namespace

PaintSwatches swatches_of(const paint::Paint& paint, const paint::Paint& white,
                          const colour::Illuminant& light) {
    const film::Colorimeter colorimeter(light);
    const auto chart_white = colour::Reflectance::constant(kWhiteChart);
    const auto chart_black = colour::Reflectance::constant(kBlackChart);
    const paint::Part alone{&paint, 1};
    const paint::MixedPaint full = paint::mix_paints({&alone, 1});
    const Micrometres one_coat = paint.coat_film;
    PaintSwatches out;
    out.id = paint.id;
    out.title = paint.title;
    out.colour_index = paint.colour_index;
    out.masstone = colorimeter.lab(film::masstone(full));
    out.one_coat_over_white = colorimeter.lab(film::reflectance_over(full, one_coat, chart_white));
    out.one_coat_over_black = colorimeter.lab(film::reflectance_over(full, one_coat, chart_black));
    out.three_coats_over_white = colorimeter.lab(film::reflectance_over(full, 3.0 * one_coat, chart_white));
    out.three_coats_over_black = colorimeter.lab(film::reflectance_over(full, 3.0 * one_coat, chart_black));
    const auto let_down = [&](double parts_of_white) {
        const std::array<paint::Part, 2> parts{paint::Part{&paint, 1}, paint::Part{&white, parts_of_white}};
        return colorimeter.lab(film::masstone(paint::mix_paints(parts)));
    };
    out.let_down_1 = let_down(1);
    out.let_down_10 = let_down(10);
    out.let_down_50 = let_down(50);
    out.contrast_ratio = colorimeter.xyz(film::reflectance_over(full, one_coat, chart_black)).Y /
                         colorimeter.xyz(film::reflectance_over(full, one_coat, chart_white)).Y;
    if (film::has_flakes(full)) out.at_angles = colours_at_angles(full, one_coat, colorimeter);
    return out;
}

}  // namespace fadewright::formulation
