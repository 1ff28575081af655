#include "fadewright/formulation/mid_colours.h"

#include "fadewright/film/layer.h"
#include "fadewright/film/stack.h"
#include "some_paints.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

using namespace fadewright;
using namespace fadewright::film;
using namespace fadewright::formulation;
using Catch::Matchers::WithinAbs;
using colour::kBandCount;
using colour::Reflectance;
using paint::Part;
using test::ThreeBands;

namespace {

// Illustrative three-band masstones of a yellow and a strong blue (common practice, no source).
constexpr ThreeBands kYellow{0.78, 0.70, 0.05};
constexpr ThreeBands kBlue{0.03, 0.10, 0.42};
constexpr double kWhiteGround = 0.85;

// A paint that scatters S everywhere and has the given masstone.
paint::Paint opaque(ThreeBands masstone, double S) {
    const auto K = [&](double R) { return S * ks_ratio(R); };
    return test::make_paint(
        test::in_thirds<colour::Absorption>({K(masstone.red), K(masstone.green), K(masstone.blue)}),
        colour::Scattering::constant(S));
}

// A dye that turns white ground into the given colour at the given film.
paint::Paint transparent(ThreeBands over_white, double film_um) {
    const auto K = [&](double R) { return std::log(kWhiteGround / R) / (2 * film_um); };
    return test::make_paint(
        test::in_thirds<colour::Absorption>({K(over_white.red), K(over_white.green), K(over_white.blue)}),
        {});
}

void check_thirds(const Reflectance& R, ThreeBands expected, double within) {
    const ThreeBands found = test::thirds_of(R);
    CHECK_THAT(found.red, WithinAbs(expected.red, within));
    CHECK_THAT(found.green, WithinAbs(expected.green, within));
    CHECK_THAT(found.blue, WithinAbs(expected.blue, within));
}

double lightness_order(const Reflectance& R) {  // luminance of linear sRGB primaries
    const ThreeBands t = test::thirds_of(R);
    return 0.2126 * t.red + 0.7152 * t.green + 0.0722 * t.blue;
}

double greyness(const Reflectance& R) {  // 1 for a grey
    const ThreeBands t = test::thirds_of(R);
    return std::min({t.red, t.green, t.blue}) / std::max({t.red, t.green, t.blue});
}

}  // namespace

TEST_CASE("yellow and blue have three mid colours with the figures of three-band arithmetic", "[film]") {
    // Figures of the trade, printed to 2 places: averaged K/S, half a transparent blue over yellow, and equal
    // areas of each. "Half a blue" is half the film that makes the blue on a white ground.
    constexpr double printed = 0.006;
    const auto ground = Reflectance::constant(kWhiteGround);
    const auto yellow = opaque(kYellow, 5), blue = opaque(kBlue, 5), dye = transparent(kBlue, 20);
    const std::vector<Part> a{{&yellow, 1}}, b{{&blue, 1}}, thin{{&dye, 1}};

    const double covers_half = std::numbers::ln2;  // splats over a point on average
    const MidColours opaque_colours = mid_colours(
        {a, b, Share{0.5}, Micrometres{200}, Micrometres{30 * covers_half}, Micrometres{30}}, ground);
    check_thirds(opaque_colours.premixed, {0.06, 0.17, 0.09}, printed);
    check_thirds(opaque_colours.stippled, {0.41, 0.40, 0.24}, printed);

    const MidColours thin_colours =
        mid_colours({a, thin, Share{0.5}, Micrometres{200}, Micrometres{10}, Micrometres{2}}, ground);
    check_thirds(thin_colours.glazed, {0.15, 0.24, 0.04}, printed);

    CHECK(lightness_order(opaque_colours.premixed) < lightness_order(thin_colours.glazed));
    CHECK(lightness_order(thin_colours.glazed) < lightness_order(opaque_colours.stippled));
    CHECK(greyness(opaque_colours.stippled) > greyness(opaque_colours.premixed));
    CHECK(greyness(opaque_colours.stippled) > greyness(thin_colours.glazed));
}

TEST_CASE("fine dots are the film, opaque dots are areas side by side", "[film]") {
    const auto ground = Reflectance::constant(kWhiteGround);
    const auto yellow = opaque(kYellow, 5), blue = opaque(kBlue, 5);
    const std::vector<Part> a{{&yellow, 1}}, b{{&blue, 1}};
    const MidColours fine =
        mid_colours({a, b, Share{0.5}, Micrometres{50}, Micrometres{1}, Micrometres{0}}, ground);
    CHECK(fine.stippled == fine.glazed);
    for (double splats : {0.1, 0.5, 1.0, 2.0}) {
        const double splat = 40;
        const MidColours m = mid_colours(
            {a, b, Share{0.5}, Micrometres{200}, Micrometres{splats * splat}, Micrometres{splat}}, ground);
        const double bare = std::exp(-splats);
        const auto area = [&](double of_a, double of_b) { return bare * of_a + (1 - bare) * of_b; };
        check_thirds(
            m.stippled,
            {area(kYellow.red, kBlue.red), area(kYellow.green, kBlue.green), area(kYellow.blue, kBlue.blue)},
            1e-9);
    }
}

TEST_CASE("a colour mixed with itself has one mid colour", "[film][property]") {
    const auto ground = Reflectance::constant(0.3);
    for (double S : {0.02, 0.2}) {
        const auto paint = opaque(kYellow, S);
        const std::vector<Part> mix{{&paint, 1}};
        const MidColours m =
            mid_colours({mix, mix, Share{0.4}, Micrometres{15}, Micrometres{0}, Micrometres{1}}, ground);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            CHECK_THAT(m.premixed[band], WithinAbs(m.glazed[band], 1e-14));
            CHECK(m.glazed[band] == m.stippled[band]);
        }
    }
}
