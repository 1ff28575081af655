#include "fadewright/formulation/tint_ladder.h"

#include "fadewright/colour/delta_e.h"

#include <utility>

namespace fadewright::formulation {

LadderRung make_rung(std::string label, std::span<const paint::Part> parts, Micrometres wet,
                     const colour::Reflectance& ground, const film::Colorimeter& colorimeter) {
    LadderRung rung;
    rung.label = std::move(label);
    rung.mix = paint::mix_paints(parts);
    rung.wet_film = wet;
    rung.film = paint::dry_film(rung.mix, wet);
    const auto white = colour::Reflectance::constant(kWhiteChart);
    const auto black = colour::Reflectance::constant(kBlackChart);
    const colour::Reflectance on_white = film::reflectance_over(rung.mix, rung.film, white);
    const colour::Reflectance on_black = film::reflectance_over(rung.mix, rung.film, black);
    rung.masstone = colorimeter.lab(film::masstone(rung.mix));
    rung.over_white = colorimeter.lab(on_white);
    rung.over_black = colorimeter.lab(on_black);
    rung.over_ground = colorimeter.lab(film::reflectance_over(rung.mix, rung.film, ground));
    rung.contrast_ratio = colorimeter.xyz(on_black).Y / colorimeter.xyz(on_white).Y;
    rung.film_to_hide = full_hiding_film(rung.mix, colorimeter);
    rung.price_per_litre = paint::price_per_litre(parts);
    return rung;
}

LadderStep step_between(const LadderRung& before, const LadderRung& rung) {
    return {colour::delta_e_2000(before.over_ground, rung.over_ground),
            colour::delta_e_2000(before.over_white, rung.over_white)};
}

}  // namespace fadewright::formulation
