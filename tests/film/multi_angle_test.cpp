#include "fadewright/film/multi_angle.h"

#include "some_flakes.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;
using colour::kBandCount;
using colour::Reflectance;

namespace {

paint::MixedPaint plain(double K, double S) {
    paint::MixedPaint mix;
    mix.K = colour::Absorption::constant(K);
    mix.S = colour::Scattering::constant(S);
    return mix;
}

paint::MixedPaint with_flakes(const FlakeStructure& build, double platelet_hits_per_um) {
    paint::MixedPaint mix = plain(0.0005, 0.001);
    mix.flakes = {test::flakes_of(build, platelet_hits_per_um)};
    const FlakeCoefficients optics = diffuse_coefficients(mix.flakes.front());
    for (std::size_t band = 0; band < kBandCount; ++band) {
        mix.K[band] += optics.K[band];
        mix.S[band] += optics.S[band];
    }
    return mix;
}

FlakeStructure aluminium() {
    FlakeStructure build;
    build.kind = paint::FlakeKind::aluminium;
    return build;
}

const Colorimeter& day() {
    static const Colorimeter colorimeter(colour::standard_illuminant(colour::StandardIlluminant::D65));
    return colorimeter;
}

}  // namespace

TEST_CASE("a finish without flakes has the same colour at all angles to the last bit", "[film]") {
    const paint::MixedPaint red = plain(0.05, 0.02), white = plain(0.001, 0.2);
    const std::array<Coat, 2> coats{Coat{&white, Micrometres{20}, {}}, Coat{&red, Micrometres{10}, {}}};
    const auto ground = Reflectance::constant(0.3);
    const colour::Lab straight = day().lab(lay_stack(coats, ground));
    const MultiAngleColour colour = multi_angle_colour(coats, ground, day());
    for (const colour::Lab& lab : colour.labs) CHECK(lab == straight);
    CHECK(colour.flop == 0);
}

TEST_CASE("the multi-angle reflectance is assembled from the parts of flake_reflection.h", "[film]") {
    const paint::MixedPaint silver = with_flakes(aluminium(), 0.2), tint = plain(0.03, 0.001);
    const std::array<Coat, 2> coats{Coat{&silver, Micrometres{12}, {}}, Coat{&tint, Micrometres{9}, {}}};
    const auto ground = Reflectance::constant(0.1);
    const Reflectance inside = lay_stack(coats, ground);
    for (const Degrees angle : kAspecular) {
        const FlakeReflectionScene scene = aspecular_scene(angle);
        FlakeReflection sum;
        sum.add(flake_reflection_coat(flake_reflection_paint(tint.K, tint.S, {}), scene), Micrometres{9});
        sum.add(flake_reflection_coat(flake_reflection_paint(silver.K, silver.S, silver.flakes), scene),
                Micrometres{12});
        const SaundersonCorrection surface = surface_at_normal({});
        const Reflectance measured = multi_angle_reflectance(coats, ground, scene, surface),
                          shiny = multi_angle_reflectance(coats, ground, scene, surface, Specular::included);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            const double expected = (1 - surface.k1) * (1 - surface.k2) * sum.emergent(band, inside[band]) /
                                        (1 - surface.k2 * inside[band]) +
                                    sum.reflectance_factor()[band];
            CHECK_THAT(measured[band], WithinAbs(expected, 1e-14));
            CHECK_THAT(shiny[band], WithinAbs(expected + surface.k1, 1e-14));
        }
    }
}

TEST_CASE("coats below the flakes count by their reflectance alone", "[film]") {
    const paint::MixedPaint silver = with_flakes(aluminium(), 0.1), base = plain(0.02, 0.1);
    const auto ground = Reflectance::constant(0.6);
    const std::array<Coat, 2> coats{Coat{&base, Micrometres{15}, {}}, Coat{&silver, Micrometres{6}, {}}};
    const MultiAngleColour both = multi_angle_colour(coats, ground, day());
    const MultiAngleColour upper = multi_angle_colour(std::span(coats).subspan(1),
                                                      reflectance_over(base, Micrometres{15}, ground), day());
    for (std::size_t i = 0; i < kAspecular.size(); ++i)
        CHECK(colour::delta_e_76(both.labs[i], upper.labs[i]) < 1e-9);
}

TEST_CASE("silver is brighter than white near-specular and dark at the flop", "[film]") {
    // Common practice: a strong metallic has a flop index of about 15 [alman1987].
    const paint::MixedPaint silver = with_flakes(aluminium(), 0.3);
    const Coat coat{&silver, Micrometres{15}, {}};
    const MultiAngleColour colour = multi_angle_colour({&coat, 1}, Reflectance::constant(0.01), day());
    CAPTURE(colour.at(Degrees{15}).L, colour.at(Degrees{45}).L, colour.at(Degrees{110}).L, colour.flop);
    CHECK(colour.at(Degrees{15}).L > 100);
    CHECK(colour.at(Degrees{15}).L > colour.at(Degrees{25}).L);
    CHECK(colour.at(Degrees{25}).L > colour.at(Degrees{45}).L);
    CHECK(colour.flop > 8);
    CHECK(colour.flop < 25);
}

TEST_CASE("a paint has flakes if its platelet hits are above 0", "[film]") {
    CHECK_FALSE(has_flakes(plain(0.1, 0.1)));
    CHECK(has_flakes(with_flakes(aluminium(), 0.1)));
    CHECK_FALSE(has_flakes(with_flakes(aluminium(), 0)));
}
