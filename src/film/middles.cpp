#include "fadewright/film/middles.h"

#include "fadewright/film/stack.h"

namespace fadewright::film {

Middles middles(const Middle& middle, const colour::Reflectance& ground) {
    const auto cup = paint::mixed(paint::blended(middle.a, middle.b, middle.b_in_cup));
    const auto a = paint::mixed(middle.a);
    const auto b = paint::mixed(middle.b);
    const auto below = over(a, middle.film, ground);
    return {over(cup, middle.film, ground), over(b, middle.b_film, below),
            fogged(b, middle.b_film, middle.splat, below)};
}

}  // namespace fadewright::film
