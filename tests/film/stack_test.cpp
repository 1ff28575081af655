#include "fadewright/film/stack.h"

#include "fadewright/film/layer.h"
#include "some_paints.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <vector>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using colour::kBandCount;
using colour::Reflectance;

namespace {

constexpr double kRounding = 4 * std::numeric_limits<double>::epsilon();

void check_near(const Reflectance& a, const Reflectance& b, double within) {
    for (std::size_t band = 0; band < kBandCount; ++band) {
        CAPTURE(band);
        CHECK_THAT(a[band], WithinAbs(b[band], within));
    }
}

}  // namespace

TEST_CASE("a coat of mixed paint is a film in every band", "[film]") {
    const auto mix = test::random_mixes(41, 1)[0];
    const auto ground = test::random_ground(42, 0);
    const Reflectance R = reflectance_over(mix, Micrometres{7}, ground);
    for (std::size_t band = 0; band < kBandCount; ++band)
        CHECK(R[band] == reflectance_over(layer(mix.K[band], mix.S[band], 7), ground[band]));
}

TEST_CASE("the laws of films hold for every paint", "[film][property]") {
    std::size_t i = 0;
    for (const auto& mix : test::random_mixes(43, 36)) {
        CAPTURE(i);
        const auto ground = test::random_ground(44, i);
        CHECK(reflectance_over(mix, Micrometres{0}, ground) == ground);
        CHECK(lay_dots(mix, Micrometres{0}, Micrometres{2}, ground) == ground);
        const auto whole = reflectance_over(mix, Micrometres{12}, ground);
        check_near(reflectance_over(mix, Micrometres{9}, reflectance_over(mix, Micrometres{3}, ground)),
                   whole, 1e-14);
        const auto dots = lay_dots(mix, Micrometres{12}, Micrometres{3}, ground);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            CHECK(whole[band] >= 0);
            CHECK(whole[band] <= 1 + kRounding);
            CHECK(dots[band] >= 0);
            CHECK(dots[band] <= 1 + kRounding);
        }
        ++i;
    }
}

TEST_CASE("thick coats reach the masstone on any ground", "[film][property]") {
    std::size_t i = 0;
    for (auto mix : test::random_mixes(45, 36)) {
        CAPTURE(i);
        // The thinnest absorber here needs sqrt(K (K + 2S)) X of some tens.
        for (std::size_t band = 0; band < kBandCount; ++band) mix.K[band] += 1e-3;
        check_near(reflectance_over(mix, Micrometres{4e4}, test::random_ground(46, i++)), masstone(mix),
                   1e-12);
    }
}

TEST_CASE("dots are always weaker than the same paint spread evenly", "[film][property]") {
    std::size_t i = 0;
    for (const auto& mix : test::random_mixes(47, 36)) {
        const auto ground = test::random_ground(48, i++);
        const auto even = reflectance_over(mix, Micrometres{6}, ground);
        const auto fine = lay_dots(mix, Micrometres{6}, Micrometres{0.5}, ground);
        const auto coarse = lay_dots(mix, Micrometres{6}, Micrometres{5}, ground);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            CAPTURE(i, band);
            const double moved = std::abs(even[band] - ground[band]);
            const double by_fine = std::abs(fine[band] - ground[band]);
            const double by_coarse = std::abs(coarse[band] - ground[band]);
            CHECK(by_fine <= moved + 1e-14);
            CHECK(by_coarse <= by_fine + 1e-14);
        }
    }
}

TEST_CASE("dots become the film as the splats become fine", "[film]") {
    const auto ground = test::random_ground(49, 0);
    for (const auto& mix : test::random_mixes(50, 12)) {
        const auto even = reflectance_over(mix, Micrometres{5}, ground);
        check_near(lay_dots(mix, Micrometres{5}, Micrometres{0}, ground), even, 0);
        // Off by at most 2 (K + S)^2 film splat while that is small; these paints reach K + S of 3.5.
        check_near(lay_dots(mix, Micrometres{5}, Micrometres{1e-5}, ground), even, 1.3e-3);
    }
}

TEST_CASE("coats are stacked from the ground up", "[film]") {
    const auto mixes = test::random_mixes(51, 3);
    const auto ground = test::random_ground(52, 0);
    const std::vector<Coat> coats{{&mixes[0], Micrometres{9}, Micrometres{0}},
                                  {&mixes[1], Micrometres{4}, Micrometres{2}},
                                  {&mixes[2], Micrometres{6}, Micrometres{0}}};
    const auto by_hand = reflectance_over(mixes[2], Micrometres{6},
                                          lay_dots(mixes[1], Micrometres{4}, Micrometres{2},
                                                   reflectance_over(mixes[0], Micrometres{9}, ground)));
    CHECK(lay_stack(coats, ground) == by_hand);
    CHECK(lay_stack({}, ground) == ground);
}

TEST_CASE("a clear coat of the same binder changes nothing below the surface", "[film]") {
    const auto clear = test::unmixed(test::make_paint({}, {}));
    const auto ground = test::random_ground(53, 0);
    CHECK(reflectance_over(clear, Micrometres{60}, ground) == ground);
}

TEST_CASE("below_surface inverts through_surface", "[film][property]") {
    const SaundersonCorrection surface = surface_at_normal({});
    for (std::size_t i = 0; i < 24; ++i) {
        const auto R = test::random_ground(54, i);
        check_near(below_surface(through_surface(R, surface), surface), R, 1e-14);
        check_near(
            below_surface(through_surface(R, surface, Specular::excluded), surface, Specular::excluded), R,
            1e-14);
        CHECK(through_surface(R, kNoSurface) == R);
    }
}

TEST_CASE("the surface darkens mid-tones more than it reflects", "[film]") {
    const SaundersonCorrection surface = surface_at_normal({});
    CHECK_THAT(through_surface(Reflectance::constant(0.5), surface)[0], WithinAbs(0.316071, 6e-7));
    CHECK_THAT(through_surface(Reflectance::constant(0.9), surface)[0], WithinAbs(0.792786, 6e-7));
}
