#include "fadewright/film/flake_reflection.h"

#include "some_flakes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;
using colour::kBandCount;
using film::test::aspecular_scene_at;
using film::test::finish_reflectance;
using film::test::flakes_of;
using film::test::lossless;
using film::test::SomeCoat;
using film::test::SomeFinish;

namespace {

constexpr double pi = std::numbers::pi;

Direction towards(double polar, double round) {
    return {std::sin(polar) * std::cos(round), std::sin(polar) * std::sin(round), std::cos(polar)};
}

// Light that leaves in all directions, of one unit incident at this angle, surface reflection included:
// midpoint rule over the hemisphere.
colour::Reflectance hemisphere(const std::vector<SomeCoat>& coats, double ground, double lamp_deg) {
    constexpr int polar_steps = 50, round_steps = 40;  // half a turn, both sides alike
    const Direction lamp = light_direction(Degrees{lamp_deg});
    const SomeFinish finish(coats, ground, flake_reflection_scene(lamp, {0, 0, 1}));
    colour::Reflectance all = colour::Reflectance::constant(fresnel({}, Degrees{lamp_deg}));
    for (int i = 0; i < polar_steps; ++i)
        for (int j = 0; j < round_steps; ++j) {
            const double polar = (i + 0.5) / polar_steps * pi / 2, round = (j + 0.5) / round_steps * pi;
            const double weight = std::cos(polar) * std::sin(polar) * pi / polar_steps / round_steps;
            const auto result = finish.reflectance(flake_reflection_scene(lamp, towards(polar, round)));
            for (std::size_t band = 0; band < kBandCount; ++band) all[band] += weight * result.outside[band];
        }
    return all;
}

}  // namespace

TEST_CASE("all light that enters over a perfect white comes back out", "[film][property]") {
    for (const double tilt : {4.0, 8.0, 15.0})
        for (const double m : {0.02, 0.2, 2.0})
            for (const double lamp : {0.0, 45.0, 65.0}) {
                const SomeCoat coat{{}, {}, {lossless(0.4, m, Degrees{tilt})}, Micrometres{10}};
                const double all = hemisphere({coat}, 1, lamp)[7];
                CAPTURE(tilt, m, lamp, all);
                CHECK_THAT(all, WithinAbs(1, 0.002));  // steps of the hemisphere and of the tilts
            }
}

TEST_CASE("flakes never reflect more than the incident light", "[film][property]") {
    FlakeStructure green;
    green.oxide = Nanometres{150};
    green.crystal = paint::Titania::rutile;
    const paint::EffectPigment pearl = flakes_of(green, 1);
    FlakeStructure silver;
    silver.kind = paint::FlakeKind::aluminium;
    const paint::EffectPigment metal = flakes_of(silver, 1);
    for (const double ground : {0.0, 1.0})
        for (const double m : {0.03, 0.3, 3.0})
            for (const double tilt : {6.0, 15.0})
                for (const double lamp : {15.0, 60.0})
                    for (paint::EffectPigment flakes : {pearl, metal, lossless(1, 1)}) {
                        flakes.platelet_hits_per_um = m;
                        flakes.tilt = Degrees{tilt};
                        const auto all = hemisphere({{{}, {}, {flakes}, Micrometres{12}}}, ground, lamp);
                        CAPTURE(ground, m, tilt, lamp, all.values);
                        CHECK(*std::max_element(all.values.begin(), all.values.end()) <= 1 + 1e-3);
                        CHECK(*std::min_element(all.values.begin(), all.values.end()) >= 0);
                    }
}

TEST_CASE("without flakes the surface correction is unchanged", "[film]") {
    const SomeCoat plain{
        colour::Absorption::constant(0.03), colour::Scattering::constant(0.05), {}, Micrometres{20}};
    const auto result = finish_reflectance({plain}, 0.7, aspecular_scene_at(45));
    CHECK_FALSE(result.sum.has_flakes());
    for (std::size_t band = 0; band < kBandCount; ++band)
        CHECK_THAT(result.outside[band],
                   WithinAbs(external_reflectance_45_0({}, result.inside[band]), 1e-14));
}

TEST_CASE("light and view may be exchanged", "[film][property]") {
    FlakeStructure structure;
    structure.oxide = Nanometres{120};
    const SomeCoat coat{colour::Absorption::constant(0.02),
                        colour::Scattering::constant(0.01),
                        {flakes_of(structure, 0.1), lossless(0.5, 0.03, Degrees{12})},
                        Micrometres{15}};
    const Direction a = towards(0.4, 0.3), b = towards(0.9, 2.0);
    const auto forward = finish_reflectance({coat, coat}, 0.1, flake_reflection_scene(a, b));
    const auto back = finish_reflectance({coat, coat}, 0.1, flake_reflection_scene(b, a));
    for (std::size_t band = 0; band < kBandCount; ++band)
        CHECK_THAT(forward.sum.reflectance_factor()[band],
                   WithinAbs(back.sum.reflectance_factor()[band], 1e-14));
}

TEST_CASE("a coat in two halves reflects as one", "[film][property]") {
    SomeCoat coat{colour::Absorption::constant(0.02),
                  colour::Scattering::constant(0.01),
                  {lossless(0.5, 0.1)},
                  Micrometres{16}};
    const auto whole = finish_reflectance({coat}, 0.2, aspecular_scene_at(15));
    coat.film = Micrometres{8};
    const auto halves = finish_reflectance({coat, coat}, 0.2, aspecular_scene_at(15));
    for (std::size_t band = 0; band < kBandCount; ++band)
        CHECK_THAT(halves.outside[band], WithinAbs(whole.outside[band], 1e-13));
}

TEST_CASE("the removed share is single reflection, and never more than the reflectance", "[film]") {
    // A film so thin that light meets one flake at most: all its reflection is removed.
    const auto thin =
        finish_reflectance({{{}, {}, {lossless(0.3, 1e-5)}, Micrometres{1}}}, 0, aspecular_scene_at(45));
    CHECK(thin.sum.single_scatter()[5] == Approx(thin.inside[5]).epsilon(1e-4));
    for (const double m : {0.01, 0.1, 1.0, 10.0})
        for (const double ground : {0.0, 0.3, 1.0}) {
            const auto result = finish_reflectance(
                {{{}, {}, {lossless(0.7, m)}, Micrometres{10}},
                 {colour::Absorption::constant(0.01), {}, {lossless(0.2, m)}, Micrometres{5}}},
                ground, aspecular_scene_at(45));
            CHECK(result.sum.single_scatter()[5] <= result.inside[5]);
        }
}

TEST_CASE("flake reflection has the reflectance factor of its facets", "[film]") {
    // [derived] pi F_in F_out / n^2 D R share / (4 cos cos) at 15 degrees from the mirror, numbers from
    // flake_geometry.csv: tilt 4.3271, 28.1255 and 19.4712 in the binder.
    const double s = std::tan(6 * pi / 180);
    const double tangent = std::tan(4.3271 * pi / 180), cosine = std::cos(4.3271 * pi / 180);
    const double D = std::exp(-tangent * tangent / (2 * s * s)) / (2 * pi * s * s * std::pow(cosine, 4));
    const double share = (1 - std::exp(-2 * 0.3 * 0.1 * 10)) / 2;  // m R X = 0.3
    const double expected = pi * 0.94976 * 0.95848 / 2.25 * D * share /
                            (4 * std::cos(28.1255 * pi / 180) * std::cos(19.4712 * pi / 180));
    const auto result =
        finish_reflectance({{{}, {}, {lossless(0.3, 0.1)}, Micrometres{10}}}, 0, aspecular_scene_at(15));
    CHECK(result.sum.reflectance_factor()[20] == Approx(expected).epsilon(1e-4));
}

TEST_CASE("a wide lamp makes flake reflection lower and wider", "[film]") {
    const SomeCoat coat{{}, {}, {lossless(0.5, 0.1)}, Micrometres{10}};
    const auto at = [&](double degrees, double soft) {
        const auto view = view_direction(aspecular_view(Degrees{45}, Degrees{degrees}));
        return finish_reflectance(
                   {coat}, 0, flake_reflection_scene(light_direction(Degrees{45}), view, {}, Degrees{soft}))
            .sum.reflectance_factor()[9];
    };
    CHECK(at(5, 20) < at(5, 0));
    CHECK(at(60, 20) > at(60, 0));
}

TEST_CASE("a dye above the flakes attenuates their reflection on both ways", "[film]") {
    const SomeCoat silver{{}, {}, {lossless(0.5, 0.1)}, Micrometres{10}};
    const SomeCoat dye{colour::Absorption::constant(0.05), {}, {}, Micrometres{8}};
    const auto bare = finish_reflectance({silver}, 0, aspecular_scene_at(15)),
               dyed = finish_reflectance({silver, dye}, 0, aspecular_scene_at(15));
    const double both_paths =
        std::exp(-0.05 * 8 / 2 * (1 / std::cos(28.1255 * pi / 180) + 1 / std::cos(19.4712 * pi / 180)));
    CHECK(dyed.sum.reflectance_factor()[3] ==
          Approx(bare.sum.reflectance_factor()[3] * both_paths).epsilon(1e-5));
}
