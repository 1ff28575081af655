// What painters know of common pigments, held against the shelf's own figures (common practice, no source,
// where nothing else is said).
#include "every_paint.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/film/middles.h"
#include "fadewright/film/stack.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace fadewright;
using colour::Lab;
using colour::Reflectance;
using test::alone;
using test::lab_seen;
using test::paint_called;

namespace {

// Inside the binder: about 85 % and under 1 % as seen in air.
const Reflectance kWhiteCard = Reflectance::constant(0.94);
const Reflectance kBlackCard = Reflectance::constant(0.01);

Lab over(const std::string& paint, double film_um, const Reflectance& ground) {
    return lab_seen(film::over(alone(paint_called(paint)), Micrometres{film_um}, ground));
}

Lab masstone(const std::vector<paint::Part>& parts) { return lab_seen(film::masstone(paint::mixed(parts))); }

}  // namespace

TEST_CASE("titanium white thin over black is bluish, and whitens as it builds", "[properties]") {
    double bluest = 0;
    for (double film_um = 0.25; film_um < 6; film_um += 0.25)
        bluest = std::min(bluest, over("titanium-white", film_um, kBlackCard).b);
    CAPTURE(bluest);
    CHECK(bluest < -3);
    CHECK(std::abs(over("titanium-white", 64, kBlackCard).b) <
          std::abs(over("titanium-white", 4, kBlackCard).b));
    CHECK(std::abs(over("titanium-white", 64, kBlackCard).b) < 2);
}

TEST_CASE("a neutral dark over white stays neutral at every film", "[properties]") {
    // Over a card that is neutral itself, so that every departure is the paint's.
    for (double film_um = 0.1; film_um <= 20; film_um *= 1.15) {
        const Lab lab = over("iron-oxide-black", film_um, kWhiteCard);
        CAPTURE(film_um, lab.L, lab.a, lab.b);
        CHECK(std::abs(lab.a) <= 1);
        CHECK(std::abs(lab.b) <= 1);
    }
}

TEST_CASE("equal parts of phthalo blue and hansa yellow are the blue's, and it takes ten to one for a green",
          "[properties]") {
    // Measured on masstones: to which of its two paints the mix lies nearer (CIEDE2000), and its hue angle.
    const paint::Paint &blue = paint_called("phthalo-blue-green-shade"),
                       &yellow = paint_called("hansa-yellow");
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
    CHECK(colour::to_lch(even).h > hue);  // further round to the blue
}

TEST_CASE("three middles of a yellow and a blue: the cup darkest, dots lightest and dullest",
          "[properties]") {
    // Hansa yellow as one good wet coat over white. The blue is laid thin enough to let it through, 1.5 um,
    // once as a film and once as droplets that leave 1 um; the cup is three parts of yellow to one of blue.
    const paint::Paint &blue = paint_called("phthalo-blue-green-shade"),
                       &yellow = paint_called("hansa-yellow");
    const std::vector<paint::Part> a{{&yellow, 1}}, b{{&blue, 1}};
    const film::Middles middles =
        film::middles({a, b, Share{0.25}, Micrometres{20}, Micrometres{1.5}, Micrometres{1}}, kWhiteCard);
    const colour::LCh cup = colour::to_lch(lab_seen(middles.cup)),
                      even = colour::to_lch(lab_seen(middles.film)),
                      dots = colour::to_lch(lab_seen(middles.dots));
    CAPTURE(cup.L, even.L, dots.L, cup.C, even.C, dots.C, cup.h, even.h, dots.h);
    CHECK(cup.L < even.L - 1);
    CHECK(even.L < dots.L - 1);
    CHECK(dots.C < std::min(cup.C, even.C) - 1);
    for (const double green : {cup.h, even.h}) {
        CHECK(green > 130);
        CHECK(green < 200);
    }
    CHECK(dots.h < std::min(cup.h, even.h));  // towards the yellow: olive
}

TEST_CASE("more black never brightens a mix in any band", "[properties]") {
    const paint::Paint& black = paint_called("carbon-black");
    for (const paint::Paint& paint : test::every_paint()) {
        if (paint.id == black.id) continue;
        const bool clear = paint.role == paint::Role::clear || paint.role == paint::Role::clear_base;
        Reflectance before = Reflectance::constant(1);
        // A clear film shows its ground; black on it is laid as one coat over white.
        for (const double parts : {0.0, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0}) {
            const std::vector<paint::Part> mix{{&paint, 1}, {&black, parts}};
            const Reflectance now = clear ? film::over(paint::mixed(mix), Micrometres{10}, kWhiteCard)
                                          : film::masstone(paint::mixed(mix));
            CAPTURE(paint.id, parts);
            for (std::size_t band = 0; band < colour::kBandCount; ++band) {
                // Where a colour is darker than black itself, black lightens it up to its own level.
                const double floor = film::masstone(alone(black))[band];
                REQUIRE(now[band] <= std::max(before[band], floor) + 1e-12);
            }
            before = now;
        }
    }
}
