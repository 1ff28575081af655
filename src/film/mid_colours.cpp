#include "fadewright/film/mid_colours.h"

#include "fadewright/film/stack.h"

namespace fadewright::film {

MidColours mid_colours(const MidColourInput& input, const colour::Reflectance& ground) {
    const auto mix = paint::mix_paints(paint::combine_mixes(input.a, input.b, input.b_in_mix));
    const auto a = paint::mix_paints(input.a);
    const auto b = paint::mix_paints(input.b);
    const auto below = reflectance_over(a, input.film, ground);
    return {reflectance_over(mix, input.film, ground), reflectance_over(b, input.b_film, below),
            lay_dots(b, input.b_film, input.splat, below)};
}

}  // namespace fadewright::film
