#include "fadewright/formulation/drawdown.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/paint/parametric_ks.h"

#include <catch2/catch.hpp>

namespace {

using namespace fadewright;
using namespace fadewright::film;
using namespace fadewright::formulation;

paint::Paint yellow() {
    paint::Paint p;
    p.id = "yellow";
    p.solids = Share{0.3};
    p.pigment = Share{0.15};
    p.K = paint::parametric_absorption(
        {{}, {{Nanometres{490}, Nanometres{9}, PerMicrometre{0.9}}}, PerMicrometre{0.0005}, 0});
    p.S = paint::parametric_scattering({PerMicrometre{0.04}, 1, {}});
    return p;
}

paint::Paint strong_blue() {
    paint::Paint p;
    p.id = "blue";
    p.solids = Share{0.3};
    p.pigment = Share{0.15};
    p.K = paint::parametric_absorption(
        {{{Nanometres{630}, Nanometres{150}, 0, PerMicrometre{2.0}}}, {}, PerMicrometre{0.004}, 0});
    p.S = paint::parametric_scattering({PerMicrometre{0.02}, 1, {}});
    return p;
}

Colorimeter day() { return Colorimeter(colour::standard_illuminant(colour::StandardIlluminant::D65)); }

}  // namespace

TEST_CASE("the visual midpoint is equally far from both colours, and inverts with their order", "[film]") {
    const paint::Paint a = yellow(), b = strong_blue();
    const paint::Part pa{&a, 1}, pb{&b, 1};
    const auto half = visual_midpoint({&pa, 1}, {&pb, 1}, day());
    REQUIRE(half);
    CHECK(half->distance_from_a == Approx(half->distance_from_b).margin(1e-6));
    const auto swapped = visual_midpoint({&pb, 1}, {&pa, 1}, day());
    REQUIRE(swapped);
    CHECK(swapped->parts_of_b == Approx(1 / half->parts_of_b).epsilon(1e-6));
    // Common practice, no source: a strong blue swamps a yellow, so the midpoint has far less than one part.
    CHECK(half->parts_of_b < 0.3);
}

TEST_CASE("two equal colours have no visual midpoint", "[film]") {
    const paint::Paint a = yellow();
    const paint::Part part{&a, 1}, more{&a, 3};
    CHECK_FALSE(visual_midpoint({&part, 1}, {&more, 1}, day()));
}

TEST_CASE("coats to hide are the first whose contrast ratio reaches 0.98", "[film]") {
    const paint::Paint a = yellow();
    const paint::Part part{&a, 1};
    const paint::MixedPaint mix = paint::mix_paints({&part, 1});
    const auto ground = colour::Reflectance::constant(0.4);
    const DrawdownPrediction first = predict_drawdown(mix, Micrometres{25}, 1, ground, day());
    REQUIRE(first.coats_to_hide);
    const int coats = *first.coats_to_hide;
    REQUIRE(coats >= 2);
    const DrawdownPrediction all = predict_drawdown(mix, Micrometres{25}, coats, ground, day());
    CHECK(all.coats[static_cast<std::size_t>(coats) - 1].contrast_ratio >= 0.98 - 1e-6);
    CHECK(all.coats[static_cast<std::size_t>(coats) - 2].contrast_ratio < 0.98);
    for (std::size_t n = 1; n < all.coats.size(); ++n)
        CHECK(all.coats[n].contrast_ratio > all.coats[n - 1].contrast_ratio);
}

TEST_CASE("clear base never hides", "[film]") {
    paint::Paint clear;
    clear.solids = Share{0.3};
    clear.K = colour::Absorption::constant(1e-4);
    const paint::Part part{&clear, 1};
    const DrawdownPrediction prediction = predict_drawdown(paint::mix_paints({&part, 1}), Micrometres{10}, 3,
                                                           colour::Reflectance::constant(0.4), day());
    CHECK_FALSE(prediction.coats_to_hide);
}

TEST_CASE("a mid colour on the straight line has no chroma loss and no hue shift", "[film]") {
    const colour::Lab a{70, 10, 80}, b{30, 20, -40};
    const MidColourFigures on_path = path_deviation(a, b, {50, 15, 20});
    CHECK(on_path.chroma_loss == Approx(0).margin(1e-12));
    REQUIRE(on_path.hue_shift_deg);
    CHECK(*on_path.hue_shift_deg == Approx(0).margin(1e-9));
    const MidColourFigures duller = path_deviation(a, b, {50, 7.5, 10});
    CHECK(duller.chroma_loss == Approx(12.5));
    CHECK(*duller.hue_shift_deg == Approx(0).margin(1e-9));
    const MidColourFigures swapped = path_deviation(a, b, {50, -20, 15});
    CHECK(swapped.chroma_loss == Approx(0).margin(1e-9));
    CHECK(*swapped.hue_shift_deg == Approx(90));
    CHECK_FALSE(path_deviation(a, b, {50, 1, 1}).hue_shift_deg);
}

TEST_CASE("the ends of the three mid colours are the two colours as sprayed", "[film]") {
    const paint::Paint a = yellow(), b = strong_blue();
    const paint::Part pa{&a, 1}, pb{&b, 1};
    MidColourInput middle;
    middle.a = {&pa, 1};
    middle.b = {&pb, 1};
    const auto ground = colour::Reflectance::constant(0.8);
    const MidColourComparison comparison = compare_mid_colours(middle, ground, day());
    CHECK(colour::delta_e_2000(comparison.a, day().lab(reflectance_over(paint::mix_paints({&pa, 1}),
                                                                        middle.film, ground))) < 1e-9);
    CHECK(colour::delta_e_2000(comparison.b, day().lab(reflectance_over(paint::mix_paints({&pb, 1}),
                                                                        middle.film, ground))) < 1e-9);
}
