#include "fadewright/formulation/mid_colours.h"

#include "fadewright/film/stack.h"

namespace fadewright::formulation {

MidColours mid_colours(const MidColourInput& input, const colour::Reflectance& ground) {
    const auto mix = paint::mix_paints(paint::combine_mixes(input.a, input.b, input.b_in_mix));
    const auto a = paint::mix_paints(input.a);
    const auto b = paint::mix_paints(input.b);
    const auto below = film::reflectance_over(a, input.film, ground);
    return {film::reflectance_over(mix, input.film, ground), film::reflectance_over(b, input.b_film, below),
            film::lay_dots(b, input.b_film, input.splat, below)};
}

}  // namespace fadewright::formulation
