// Trade knowledge about common pigments, tested on the paints of the library (common practice, no source,
// unless stated otherwise).
#include "all_paints.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/film/stack.h"
#include "fadewright/formulation/mid_colours.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace fadewright;
using colour::Lab;
using colour::Reflectance;
using test::daylight_lab;
using test::find_paint;
using test::unmixed;

namespace {

// Internal reflectance: about 85 % and under 1 % measured in air.
const Reflectance kWhiteCard = Reflectance::constant(0.94);
const Reflectance kBlackCard = Reflectance::constant(0.01);

Lab lab_over(const std::string& paint, double film_um, const Reflectance& ground) {
    return daylight_lab(film::reflectance_over(unmixed(find_paint(paint)), Micrometres{film_um}, ground));
}

Lab masstone(const std::vector<paint::Part>& parts) {
    return daylight_lab(film::masstone(paint::mix_paints(parts)));
}

}  // namespace

TEST_CASE("titanium white thin over black is bluish, and whitens as it builds", "[properties]") {
    double bluest = 0;
    for (double film_um = 0.25; film_um < 6; film_um += 0.25)
        bluest = std::min(bluest, lab_over("titanium-white", film_um, kBlackCard).b);
    CAPTURE(bluest);
    CHECK(bluest < -3);
    CHECK(std::abs(lab_over("titanium-white", 64, kBlackCard).b) <
          std::abs(lab_over("titanium-white", 4, kBlackCard).b));
    CHECK(std::abs(lab_over("titanium-white", 64, kBlackCard).b) < 2);
}

TEST_CASE("a neutral dark over white stays neutral at every film", "[properties]") {
    // Over a neutral card, so that every deviation is that of the paint.
    for (double film_um = 0.1; film_um <= 20; film_um *= 1.15) {
        const Lab lab = lab_over("iron-oxide-black", film_um, kWhiteCard);
        CAPTURE(film_um, lab.L, lab.a, lab.b);
        CHECK(std::abs(lab.a) <= 1);
        CHECK(std::abs(lab.b) <= 1);
    }
}

TEST_CASE("equal parts of phthalo blue and hansa yellow are blue, and a green takes ten to one",
          "[properties]") {
    // On masstones: the paint that the mix is nearer to (CIEDE2000), and its hue angle.
    const paint::Paint &blue = find_paint("phthalo-blue-green-shade"), &yellow = find_paint("hansa-yellow");
    const Lab blue_alone = masstone({{&blue, 1}}), yellow_alone = masstone({{&yellow, 1}});
    const Lab even = masstone({{&yellow, 1}, {&blue, 1}});
    const double to_blue = colour::delta_e_2000(even, blue_alone),
                 to_yellow = colour::delta_e_2000(even, yellow_alone);
    CAPTURE(to_blue, to_yellow);
    CHECK(to_blue < to_yellow);
    const double hue = colour::to_lch(masstone({{&yellow, 10}, {&blue, 1}})).h;
    CAPTURE(hue);
    CHECK(hue >= 130);
    CHECK(hue <= 200);
    CHECK(colour::to_lch(even).h > hue);  // nearer to the blue
}

TEST_CASE("three mid colours of a yellow and a blue: premixed darkest, dots lightest and dullest",
          "[properties]") {
    // Hansa yellow as one good wet coat over white. The blue is sprayed thin enough to be transparent, 1.5
    // um, once as a film and once as droplets that leave 1 um; the premix is three parts of yellow to one of
    // blue.
    const paint::Paint &blue = find_paint("phthalo-blue-green-shade"), &yellow = find_paint("hansa-yellow");
    const std::vector<paint::Part> a{{&yellow, 1}}, b{{&blue, 1}};
    const formulation::MidColours midpoints = formulation::mid_colours(
        {a, b, Share{0.25}, Micrometres{20}, Micrometres{1.5}, Micrometres{1}}, kWhiteCard);
    const colour::LCh premixed = colour::to_lch(daylight_lab(midpoints.premixed)),
                      even = colour::to_lch(daylight_lab(midpoints.glazed)),
                      dots = colour::to_lch(daylight_lab(midpoints.stippled));
    CAPTURE(premixed.L, even.L, dots.L, premixed.C, even.C, dots.C, premixed.h, even.h, dots.h);
    CHECK(premixed.L < even.L - 1);
    CHECK(even.L < dots.L - 1);
    CHECK(dots.C < std::min(premixed.C, even.C) - 1);
    for (const double green : {premixed.h, even.h}) {
        CHECK(green > 130);
        CHECK(green < 200);
    }
    CHECK(dots.h < std::min(premixed.h, even.h));  // towards the yellow: olive
}

TEST_CASE("more black never brightens a mix in any band", "[properties]") {
    const paint::Paint& black = find_paint("carbon-black");
    for (const paint::Paint& paint : test::all_paints()) {
        if (paint.id == black.id) continue;
        const bool clear = paint.role == paint::Role::clear || paint.role == paint::Role::clear_base;
        Reflectance before = Reflectance::constant(1);
        // A clear film shows its ground; black in it is one coat over white.
        for (const double parts : {0.0, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0}) {
            const std::vector<paint::Part> mix{{&paint, 1}, {&black, parts}};
            const Reflectance now =
                clear ? film::reflectance_over(paint::mix_paints(mix), Micrometres{10}, kWhiteCard)
                      : film::masstone(paint::mix_paints(mix));
            CAPTURE(paint.id, parts);
            for (std::size_t band = 0; band < colour::kBandCount; ++band) {
                // Where a colour is darker than black, black lightens it to its own level.
                const double floor = film::masstone(unmixed(black))[band];
                REQUIRE(now[band] <= std::max(before[band], floor) + 1e-12);
            }
            before = now;
        }
    }
}
