// Thin coats as painters know them, in Lab: bluish whites, weak reds, candies, hiding.
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/film/hiding.h"
#include "fadewright/film/layer.h"
#include "fadewright/film/stack.h"
#include "fadewright/formulation/mid_colours.h"
#include "some_paints.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

using namespace fadewright;
using namespace fadewright::film;
using namespace fadewright::formulation;
using Catch::Matchers::WithinAbs;
using colour::Lab;
using colour::Reflectance;
using test::ThreeBands;

namespace {

const colour::TristimulusWeights& daylight() {
    static const colour::TristimulusWeights w = colour::tristimulus_weights(
        colour::standard_illuminant(colour::StandardIlluminant::D65), colour::Observer::two_degree);
    return w;
}

colour::Spd luminosity() {
    colour::Spd power;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) power[band] = daylight().w[band][1];
    return power;
}

Lab lab_of(const Reflectance& R) { return colour::to_lab(colour::to_xyz(R, daylight()), daylight().white); }

Lab lab_through_surface(const Reflectance& inside) {
    return lab_of(through_surface(inside, surface_at_normal({})));
}

// Red, green and blue as the primaries of sRGB, white at 1, 1, 1. Source: [iec61966].
Lab lab_of(ThreeBands t) {
    const auto xyz = [](ThreeBands v) {
        return colour::XYZ{100 * (0.4123907993 * v.red + 0.3575843394 * v.green + 0.1804807884 * v.blue),
                           100 * (0.2126390059 * v.red + 0.7151686788 * v.green + 0.0721923154 * v.blue),
                           100 * (0.0193308187 * v.red + 0.1191947798 * v.green + 0.9505321522 * v.blue)};
    };
    return colour::to_lab(xyz(t), xyz({1, 1, 1}));
}

paint::MixedPaint fine_white() {
    // Scattering 1.35 : 1 : 0.78 in blue, green and red (illustrative, no source), hardly any absorption.
    return test::unmixed(test::make_paint(colour::Absorption::constant(1e-4),
                                          paint::parametric_scattering({PerMicrometre{0.2}, 1.5, {}})));
}

paint::MixedPaint neutral_black() {
    return test::unmixed(
        test::make_paint(colour::Absorption::constant(1.5), colour::Scattering::constant(0.01)));
}

paint::MixedPaint weak_red() {
    paint::AbsorptionModel model;
    model.edges.push_back({Nanometres{590}, Nanometres{9}, PerMicrometre{0.25}});
    model.baseline = PerMicrometre{0.002};
    return test::unmixed(test::make_paint(paint::parametric_absorption(model),
                                          paint::parametric_scattering({PerMicrometre{0.06}, 1, {}})));
}

}  // namespace

TEST_CASE("a thin white over black turns blue, and neutral again as it thickens", "[film]") {
    const auto white = fine_white();
    const auto black = Reflectance::constant(0.04);
    const auto b_at = [&](double film_um) {
        return lab_of(reflectance_over(white, Micrometres{film_um}, black)).b;
    };
    // Illustrative figures: b* about -6 to -8 at 0.5 to 4 micrometres, -4 at 16, -1.4 at 64. They were drawn
    // up with three bands, which moves b* by some tenths.
    constexpr double tenths = 0.5;
    for (double film_um : {0.5, 1.0, 2.0, 4.0}) {
        const auto t = test::thirds_of(reflectance_over(white, Micrometres{film_um}, black));
        CAPTURE(film_um, b_at(film_um));
        CHECK(t.blue > t.green);
        CHECK(t.green > t.red);
        CHECK(b_at(film_um) < -6 + tenths);
        CHECK(b_at(film_um) > -8 - tenths);
    }
    CHECK_THAT(b_at(16), WithinAbs(-4, tenths));
    CHECK_THAT(b_at(64), WithinAbs(-1.4, tenths));
    double before = b_at(4);
    for (double film_um : {8.0, 16.0, 32.0, 64.0, 128.0}) {
        CAPTURE(film_um);
        CHECK(b_at(film_um) > before);
        before = b_at(film_um);
    }
    CHECK_THAT(b_at(0), WithinAbs(0, 0.01));
}

TEST_CASE("a neutral dark over white stays neutral at every film", "[film]") {
    const auto dark = neutral_black();
    for (double film_um : {0.0, 0.1, 0.3, 0.6, 1.0, 2.0, 8.0}) {
        const Lab lab = lab_of(reflectance_over(dark, Micrometres{film_um}, Reflectance::constant(0.85)));
        CAPTURE(film_um);
        CHECK(std::hypot(lab.a, lab.b) < 1);
    }
    // And over a real white film, whose own colour is nearly neutral.
    const auto below = masstone(fine_white());
    for (double film_um : {0.1, 0.6, 2.0}) {
        const Lab lab = lab_of(reflectance_over(dark, Micrometres{film_um}, below));
        CHECK(std::hypot(lab.a, lab.b) < 1);
    }
}

TEST_CASE("a weak red over white and over black differs for several coats, less with each", "[film]") {
    // Two to three coats differ visibly; four to five are said to be needed over black (common practice).
    const auto red = weak_red();
    const double coat_um = 8;
    double before = std::numeric_limits<double>::infinity();
    for (int coat = 0; coat <= 8; ++coat) {
        const Micrometres film{coat * coat_um};
        const Lab on_white = lab_through_surface(reflectance_over(red, film, Reflectance::constant(0.85)));
        const Lab on_black = lab_through_surface(reflectance_over(red, film, Reflectance::constant(0.04)));
        const double difference = colour::delta_e_2000(on_white, on_black);
        CAPTURE(coat, difference);
        CHECK(difference < before);
        if (coat == 2 || coat == 3) CHECK(difference > 2);
        before = difference;
    }
    CHECK(before < 2);
}

TEST_CASE("candy over silver darkens with every coat while its chroma rises and levels off", "[film]") {
    // Illustrative red dye: K per coat .02 .22 .30, silver ground .62; figures computed, printed whole.
    const auto coated = [](double coats) {
        const auto band = [&](double K) { return reflectance_over(layer(K, 0, coats), 0.62); };
        return lab_of(ThreeBands{band(0.02), band(0.22), band(0.30)});
    };
    struct Row {
        double coats, L, C;
    };
    for (const Row& row : {Row{0, 83, 0}, Row{4, 51, 51}, Row{8, 39, 72}}) {
        CAPTURE(row.coats);
        CHECK_THAT(coated(row.coats).L, WithinAbs(row.L, 0.6));
        CHECK_THAT(colour::to_lch(coated(row.coats)).C, WithinAbs(row.C, 0.6));
    }
    double darkest_yet = 100, last_gain = 100;
    for (int coat = 1; coat <= 12; ++coat) {
        const auto before = colour::to_lch(coated(coat - 1)), now = colour::to_lch(coated(coat));
        CAPTURE(coat);
        CHECK(now.L < darkest_yet);
        darkest_yet = now.L;
        if (coat > 6) CHECK(now.C - before.C < last_gain);  // levelling off
        last_gain = now.C - before.C;
    }
    // Ten per cent of film matters most near the fourth coat, about 4 units, then less.
    const auto slip = [&](double coats) {
        return colour::delta_e_76(coated(0.9 * coats), coated(1.1 * coats)) / 2;
    };
    CHECK_THAT(slip(4), WithinAbs(4, 1.5));
    CHECK(slip(10) < slip(4));
    CHECK(slip(1) < slip(4));
}

TEST_CASE("yellow and blue: premixed is darkest, stippled is lightest and dullest", "[film]") {
    // Three-band masstones of the trade; a hiding yellow, and a blue thin enough to let it through.
    const auto paint = [](ThreeBands R, double S) {
        const auto K = [&](double r) { return S * ks_ratio(r); };
        return test::make_paint(test::in_thirds<colour::Absorption>({K(R.red), K(R.green), K(R.blue)}),
                                colour::Scattering::constant(S));
    };
    const auto yellow = paint({0.78, 0.70, 0.05}, 0.3), blue = paint({0.03, 0.10, 0.42}, 0.05);
    const std::vector<paint::Part> a{{&yellow, 1}}, b{{&blue, 1}};
    const MidColours m = mid_colours({a, b, Share{0.5}, Micrometres{30}, Micrometres{1.6}, Micrometres{1.6}},
                                     Reflectance::constant(0.85));
    const auto premixed = colour::to_lch(lab_of(test::thirds_of(m.premixed)));
    const auto film = colour::to_lch(lab_of(test::thirds_of(m.glazed)));
    const auto dots = colour::to_lch(lab_of(test::thirds_of(m.stippled)));
    CHECK(premixed.L < film.L - 1);
    CHECK(film.L < dots.L - 1);
    CHECK(dots.C < std::min(premixed.C, film.C) - 1);
    for (const auto& green : {premixed, film}) {
        CHECK(green.h > 120);
        CHECK(green.h < 180);
    }
    CHECK(dots.h < premixed.h);  // towards the yellow: olive
}

TEST_CASE("hiding of a mix is luminous and outside the surface", "[film]") {
    const SaundersonCorrection surface = surface_at_normal({});
    const HidingChart chart{below_surface(Reflectance::constant(0.05), surface)[0],
                            below_surface(Reflectance::constant(0.80), surface)[0]};
    for (const auto& mix : {fine_white(), weak_red(), neutral_black()}) {
        const auto film = film_to_hide(mix, kFullHiding, chart, surface, luminosity());
        REQUIRE(film);
        CHECK_THAT(contrast_ratio(mix, *film, chart, surface, luminosity()), WithinAbs(kFullHiding, 1e-9));
        double before = 0;
        for (double step : {0.1, 0.3, 0.6, 1.0}) {
            const double ratio = contrast_ratio(mix, step * *film, chart, surface, luminosity());
            CHECK(ratio > before);
            before = ratio;
        }
    }
    CHECK(film_to_hide(neutral_black(), kFullHiding, chart, surface, luminosity())->value <
          film_to_hide(weak_red(), kFullHiding, chart, surface, luminosity())->value);
    const auto dye = test::unmixed(test::make_paint(colour::Absorption::constant(0.3), {}));
    CHECK_FALSE(film_to_hide(dye, kFullHiding, chart, surface, luminosity()));
    CHECK_THAT(luminous_mean(Reflectance::constant(0.37), luminosity()), WithinAbs(0.37, 1e-15));
}
