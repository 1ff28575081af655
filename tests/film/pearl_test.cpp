// Pearls, interference colours, silver and candy as painters know them: film/flake_reflection.h in full
// stacks. The behaviour is common practice, no source; figures are of paints invented here.
#include "some_flakes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace fadewright;
using namespace fadewright::film;
using film::test::aspecular_scene_at;
using film::test::finish_reflectance;
using film::test::flakes_of;
using film::test::lch_of;
using film::test::SomeCoat;

namespace {

FlakeStructure interference_blue() {
    FlakeStructure structure;
    structure.oxide = Nanometres{125};
    structure.oxide_spread = Nanometres{5};
    return structure;
}

double hue_difference(double a, double b) { return std::abs(std::remainder(a - b, 360)); }

}  // namespace

TEST_CASE("interference colour is strong over black, weak and complementary over white", "[film]") {
    const SomeCoat coat{
        {}, colour::Scattering::constant(0.001), {flakes_of(interference_blue(), 0.1)}, Micrometres{15}};
    const auto black15 = lch_of(finish_reflectance({coat}, 0.02, aspecular_scene_at(15)).outside);
    const auto white15 = lch_of(finish_reflectance({coat}, 0.9, aspecular_scene_at(15)).outside);
    const auto white25 = lch_of(finish_reflectance({coat}, 0.9, aspecular_scene_at(25)).outside);
    const auto black25 = lch_of(finish_reflectance({coat}, 0.02, aspecular_scene_at(25)).outside);
    const auto white110 = lch_of(finish_reflectance({coat}, 0.9, aspecular_scene_at(110)).outside);
    CAPTURE(black15.L, black15.C, black15.h, black25.C, black25.h, white15.L, white15.C, white15.h, white25.C,
            white25.h, white110.L, white110.C, white110.h);
    CHECK(black15.C > 30);
    CHECK(white15.C < 0.8 * black15.C);
    CHECK(white25.C < 0.8 * black25.C);
    CHECK(hue_difference(white110.h, black15.h) > 120);
    CHECK(white110.C > 2);
}

TEST_CASE("more pearl over black is always lighter, and milky beyond the chroma peak", "[film]") {
    std::vector<double> L, C;
    for (double film = 2; film <= 120; film += 2) {
        const SomeCoat coat{{},
                            colour::Scattering::constant(0.003),
                            {flakes_of(interference_blue(), 0.1)},
                            Micrometres{film}};
        const auto lch = lch_of(finish_reflectance({coat}, 0.02, aspecular_scene_at(45)).outside);
        L.push_back(lch.L);
        C.push_back(lch.C);
    }
    CHECK(std::is_sorted(L.begin(), L.end()));
    const auto best = std::max_element(C.begin(), C.end());
    const double film = 2 + 2 * static_cast<double>(best - C.begin());
    CAPTURE(film, *best, C.back(), L.front(), L.back());
    // [derived] the peak at this angle is near 3.7 flake layers.
    CHECK(std::abs(0.1 * film - 3.7) < 0.5);
    CHECK(std::is_sorted(C.begin(), best + 1));
    CHECK(std::is_sorted(best, C.end(), std::greater<>()));
}

TEST_CASE("candy over silver gets darker with each coat, and gains chroma until it levels off", "[film]") {
    FlakeStructure silver;
    silver.kind = paint::FlakeKind::aluminium;
    const SomeCoat ground{{}, {}, {flakes_of(silver, 0.2)}, Micrometres{15}};
    SomeCoat candy{{}, {}, {}, Micrometres{0}};
    for (std::size_t band = 0; band < colour::kBandCount; ++band)
        candy.K[band] = 0.08 / (1 + std::exp((colour::band_nm(band) - 590) / 12));  // red: absorbs the rest
    for (const double view : {15.0, 45.0, 110.0}) {
        std::vector<double> L, C;
        for (int coats = 0; coats <= 12; ++coats) {
            candy.film = Micrometres{6.0 * coats};
            const auto lch =
                lch_of(finish_reflectance({ground, candy}, 0.04, aspecular_scene_at(view)).outside);
            L.push_back(lch.L);
            C.push_back(lch.C);
        }
        CAPTURE(view, L, C);
        CHECK(std::is_sorted(L.begin(), L.end(), std::greater<>()));
        CHECK(C[1] > C[0]);
        CHECK(C[3] > C[1]);
        // It levels off: the last coats change little against the first.
        CHECK(std::abs(C[12] - C[11]) < 0.15 * (C[1] - C[0]));
    }
}

TEST_CASE("silver flops from bright to dark", "[film]") {
    FlakeStructure silver;
    silver.kind = paint::FlakeKind::aluminium;
    const SomeCoat coat{{}, {}, {flakes_of(silver, 0.2)}, Micrometres{15}};
    const double L15 = lch_of(finish_reflectance({coat}, 0.04, aspecular_scene_at(15)).outside).L;
    const double L45 = lch_of(finish_reflectance({coat}, 0.04, aspecular_scene_at(45)).outside).L;
    const double L110 = lch_of(finish_reflectance({coat}, 0.04, aspecular_scene_at(110)).outside).L;
    CAPTURE(L15, L45, L110);
    CHECK(L15 > 100);  // brighter than a white sheet there
    CHECK(L45 > L110);
    CHECK(L110 > 20);
}
