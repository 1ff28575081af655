#include "fadewright/film/angled.h"

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

paint::MixedPaint with_flakes(const FlakeBuild& build, double crossings_per_um) {
    paint::MixedPaint mix = plain(0.0005, 0.001);
    mix.flakes = {test::flakes_of(build, crossings_per_um)};
    const FlakeOptics optics = diffuse_optics(mix.flakes.front());
    for (std::size_t band = 0; band < kBandCount; ++band) {
        mix.K[band] += optics.K[band];
        mix.S[band] += optics.S[band];
    }
    return mix;
}

FlakeBuild aluminium() {
    FlakeBuild build;
    build.kind = paint::FlakeKind::aluminium;
    return build;
}

const Looker& day() {
    static const Looker looker(colour::standard_light(colour::StandardLight::D65));
    return looker;
}

}  // namespace

TEST_CASE("a finish without flakes looks to the last bit the same from all sides", "[film]") {
    const paint::MixedPaint red = plain(0.05, 0.02), white = plain(0.001, 0.2);
    const std::array<Coat, 2> coats{Coat{&white, Micrometres{20}, {}}, Coat{&red, Micrometres{10}, {}}};
    const auto ground = Reflectance::constant(0.3);
    const colour::Lab straight = day().lab(stacked(coats, ground));
    const AngledLook look = angled_look(coats, ground, day());
    for (const colour::Lab& lab : look.labs) CHECK(lab == straight);
    CHECK(look.flop == 0);
}

TEST_CASE("flakes seen from the side are glint.h's own parts under the plain skin", "[film]") {
    const paint::MixedPaint silver = with_flakes(aluminium(), 0.2), tint = plain(0.03, 0.001);
    const std::array<Coat, 2> coats{Coat{&silver, Micrometres{12}, {}}, Coat{&tint, Micrometres{9}, {}}};
    const auto ground = Reflectance::constant(0.1);
    const Reflectance inside = stacked(coats, ground);
    for (const Degrees angle : kAspecular) {
        const GlintScene scene = aspecular_scene(angle);
        GlintSum sum;
        sum.add(glint_coat(glint_paint(tint.K, tint.S, {}), scene), Micrometres{9});
        sum.add(glint_coat(glint_paint(silver.K, silver.S, silver.flakes), scene), Micrometres{12});
        const Skin skin = skin_at_normal({});
        const Reflectance seen = seen_at(coats, ground, scene, skin),
                          shiny = seen_at(coats, ground, scene, skin, Specular::included);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            const double expected =
                (1 - skin.k1) * (1 - skin.k2) * sum.risen(band, inside[band]) / (1 - skin.k2 * inside[band]) +
                sum.glint()[band];
            CHECK_THAT(seen[band], WithinAbs(expected, 1e-14));
            CHECK_THAT(shiny[band], WithinAbs(expected + skin.k1, 1e-14));
        }
    }
}

TEST_CASE("coats below the flakes count as what they look like, however they are made", "[film]") {
    const paint::MixedPaint silver = with_flakes(aluminium(), 0.1), base = plain(0.02, 0.1);
    const auto ground = Reflectance::constant(0.6);
    const std::array<Coat, 2> coats{Coat{&base, Micrometres{15}, {}}, Coat{&silver, Micrometres{6}, {}}};
    const AngledLook both = angled_look(coats, ground, day());
    const AngledLook upper =
        angled_look(std::span(coats).subspan(1), over(base, Micrometres{15}, ground), day());
    for (std::size_t i = 0; i < kAspecular.size(); ++i)
        CHECK(colour::delta_e_76(both.labs[i], upper.labs[i]) < 1e-9);
}

TEST_CASE("silver shines brighter than white near the mirror direction and flops away from it", "[film]") {
    // Common practice: a strong metallic has a flop index of about 15 (Alman 1987, from memory).
    const paint::MixedPaint silver = with_flakes(aluminium(), 0.3);
    const Coat coat{&silver, Micrometres{15}, {}};
    const AngledLook look = angled_look({&coat, 1}, Reflectance::constant(0.01), day());
    CAPTURE(look.at(Degrees{15}).L, look.at(Degrees{45}).L, look.at(Degrees{110}).L, look.flop);
    CHECK(look.at(Degrees{15}).L > 100);
    CHECK(look.at(Degrees{15}).L > look.at(Degrees{25}).L);
    CHECK(look.at(Degrees{25}).L > look.at(Degrees{45}).L);
    CHECK(look.flop > 8);
    CHECK(look.flop < 25);
}

TEST_CASE("a paint has flakes if a ray meets any", "[film]") {
    CHECK_FALSE(has_flakes(plain(0.1, 0.1)));
    CHECK(has_flakes(with_flakes(aluminium(), 0.1)));
    CHECK_FALSE(has_flakes(with_flakes(aluminium(), 0)));
}
