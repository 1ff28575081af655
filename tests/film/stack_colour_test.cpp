#include "fadewright/film/stack_colour.h"

#include "fadewright/film/multi_angle.h"
#include "some_flakes.h"
#include "some_paints.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace fadewright;
using namespace fadewright::film;
using colour::Lab;

namespace {

const Colorimeter& day() {
    static const Colorimeter colorimeter(colour::standard_illuminant(colour::StandardIlluminant::D65));
    return colorimeter;
}

void check_near(const Lab& a, const Lab& b, double within) {
    CHECK(a.L == Approx(b.L).margin(within));
    CHECK(a.a == Approx(b.a).margin(within));
    CHECK(a.b == Approx(b.b).margin(within));
}

StackColour three_coats(const std::vector<paint::MixedPaint>& mixes, const colour::Reflectance& ground) {
    return {ground,
            {{mixes[0], Micrometres{9}}, {mixes[1], {}}, {mixes[2], {}}, {mixes[3], Micrometres{4}}},
            {day()}};
}

}  // namespace

TEST_CASE("a stack's colour is that of its coats one over the other", "[film]") {
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        CAPTURE(seed);
        const auto mixes = fadewright::test::random_mixes(seed, 4);
        const auto ground = fadewright::test::random_ground(seed, 0);
        const StackColour colours = three_coats(mixes, ground);
        REQUIRE(colours.free_coats() == 2);
        for (const double film : {0.0, 0.02, 1.0, 30.0}) {
            const std::array films{film, 5.0};
            const std::array coats{Coat{&mixes[0], Micrometres{9}, {}},
                                   Coat{&mixes[1], Micrometres{film}, {}},
                                   Coat{&mixes[2], Micrometres{5}, {}}, Coat{&mixes[3], Micrometres{4}, {}}};
            check_near(colours.lab(films), day().lab(lay_stack(coats, ground)), 1e-9);
        }
    }
}

TEST_CASE("derivatives of a stack's colour agree with finite differences", "[film]") {
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        CAPTURE(seed);
        const auto mixes = fadewright::test::random_mixes(seed, 4);
        const StackColour colours = three_coats(mixes, fadewright::test::random_ground(seed, 0));
        for (const double film : {0.3, 6.0}) {
            const std::array films{film, 0.7 * film};
            std::array<Lab, 2> slopes;
            const Lab base_lab = colours.lab(films, slopes);
            check_near(base_lab, colours.lab(films), 1e-12);
            for (std::size_t c = 0; c < 2; ++c) {
                CAPTURE(c);
                constexpr double step = 1e-4;
                std::array less = films, more = films;
                less[c] -= step;
                more[c] += step;
                const Lab a = colours.lab(less), b = colours.lab(more);
                const Lab slope{(b.L - a.L) / (2 * step), (b.a - a.a) / (2 * step), (b.b - a.b) / (2 * step)};
                // The third derivative of a colour leaves step^2 of it, rounding 1e-13 / step.
                check_near(slopes[c], slope,
                           1e-6 * std::max(1.0, std::hypot(slope.L, slope.a, slope.b)) + 1e-6);
            }
        }
    }
}

TEST_CASE("a stack with flakes depends on the angle, and is darker under more film", "[film][flake]") {
    paint::MixedPaint silver;
    silver.K = colour::Absorption::constant(0.002);
    silver.S = colour::Scattering::constant(0.001);
    silver.flakes = {film::test::lossless(0.8, 0.05)};
    paint::MixedPaint candy;
    candy.K = colour::Absorption::constant(0.03);
    candy.S = colour::Scattering::constant(0.0002);
    const auto ground = colour::Reflectance::constant(0.1);
    for (const Degrees aspecular : {Degrees{15}, Degrees{45}, Degrees{110}}) {
        CAPTURE(aspecular.value);
        const StackColour colours(ground, {{silver, Micrometres{12}}, {candy, {}}}, {day(), aspecular});
        double lightest = 1e9;
        for (const double film : {0.0, 3.0, 20.0}) {
            const std::array coats{Coat{&silver, Micrometres{12}, {}}, Coat{&candy, Micrometres{film}, {}}};
            const colour::Reflectance measured = multi_angle_reflectance(
                coats, ground, aspecular_scene(aspecular), day().surface(), Specular::excluded);
            std::array<Lab, 1> slope;
            const Lab lab = colours.lab(std::array{film}, slope);
            check_near(lab, day().lab_of_measured(measured), 1e-9);
            CHECK(lab.L < lightest);
            CHECK(slope[0].L < 0);
            lightest = lab.L;
        }
    }
}
