// Rungs of a tint ladder, and the appearance of films with flakes.
#include "fadewright/formulation/tint_ladder.h"

#include "fadewright/colour/delta_e.h"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>

using namespace fadewright;
using namespace fadewright::film;
using namespace fadewright::formulation;

namespace {

paint::Paint grey_paint(double absorption, double scattering) {
    paint::Paint paint;
    paint.solids = Share{0.4};
    paint.coat_film = Micrometres{15};
    paint.wet_density = GramsPerMillilitre{1.2};
    paint.K = colour::Absorption::constant(absorption);
    paint.S = colour::Scattering::constant(scattering);
    paint.price_per_litre = 30;
    return paint;
}

Colorimeter d65_colorimeter() {
    return Colorimeter(colour::standard_illuminant(colour::StandardIlluminant::D65));
}

}  // namespace

TEST_CASE("a rung's dry film follows from its solids, and more film comes nearer to the masstone", "[film]") {
    const paint::Paint paint = grey_paint(0.02, 0.05);
    const std::array parts{paint::Part{&paint, 1}};
    const auto ground = colour::Reflectance::constant(0.9);
    const Colorimeter colorimeter = d65_colorimeter();
    const LadderRung thin = make_rung("thin", parts, Micrometres{10}, ground, colorimeter);
    const LadderRung thick = make_rung("thick", parts, Micrometres{100}, ground, colorimeter);
    CHECK(thin.label == "thin");
    CHECK(thin.film.value == Approx(4));
    CHECK(thick.contrast_ratio > thin.contrast_ratio);
    CHECK(colour::delta_e_2000(thick.over_ground, thick.masstone) <
          colour::delta_e_2000(thin.over_ground, thin.masstone));
    CHECK(thin.price_per_litre == 30.0);
    REQUIRE(thin.film_to_hide);
    CHECK(thin.film_to_hide->value == Approx(thick.film_to_hide->value));
    const LadderStep step = step_between(thin, thick);
    CHECK(step.over_ground == Approx(colour::delta_e_2000(thin.over_ground, thick.over_ground)));
    CHECK(step.over_white == Approx(colour::delta_e_2000(thin.over_white, thick.over_white)));
    CHECK(step_between(thin, thin).over_ground == 0);
}

TEST_CASE("a mix with an unpriced part has no price, and a dye never hides", "[film]") {
    paint::Paint dye = grey_paint(0.05, 0);
    dye.price_per_litre.reset();
    const paint::Paint paint = grey_paint(0.02, 0.05);
    const std::array parts{paint::Part{&paint, 1}, paint::Part{&dye, 1}};
    CHECK_FALSE(paint::price_per_litre(parts));
    const std::array alone{paint::Part{&dye, 1}};
    CHECK_FALSE(full_hiding_film(paint::mix_paints(alone), d65_colorimeter()));
    CHECK_FALSE(coats_to_hide(std::nullopt, Micrometres{10}));
    CHECK(coats_to_hide(Micrometres{30}, Micrometres{10}) == 3);
    CHECK(coats_to_hide(Micrometres{30.1}, Micrometres{10}) == 4);
}

TEST_CASE("colours brighter than the screen are darkened until they just fit", "[film]") {
    const std::array labs{colour::Lab{130, 0, 0}, colour::Lab{50, 10, 10}};
    const double exposure = exposure_to_fit(labs);
    CHECK(exposure < 1);
    CHECK(apply_exposure(labs[0], exposure).L == Approx(100).margin(0.1));
    CHECK(exposure_to_fit(std::array{colour::Lab{50, 10, 10}}) == 1);
}
