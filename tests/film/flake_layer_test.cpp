#include "fadewright/film/flake_layer.h"

#include "some_flakes.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;
using film::test::flakes_of;
using film::test::lossless;

TEST_CASE("the diffuse reflectance is the mean over the hemisphere", "[film]") {
    const paint::EffectPigment flakes = flakes_of({}, 0.1);
    const FlakeMeans means = diffuse_means(*flakes.optics);
    constexpr int steps = 90000;  // midpoints in the angle
    double R = 0, T = 0;
    for (int i = 0; i < steps; ++i) {
        const double angle = 90 * (i + 0.5) / steps;
        const double weight = std::sin(2 * angle * std::numbers::pi / 180) * std::numbers::pi / 2 / steps;
        R += weight * reflected_at(*flakes.optics, 8, Degrees{angle});
        T += weight * transmitted_at(*flakes.optics, 8, Degrees{angle});
    }
    CHECK_THAT(means.reflected[8], WithinAbs(R, 1e-9));
    CHECK_THAT(means.transmitted[8], WithinAbs(T, 1e-9));
}

TEST_CASE("clear flakes scatter and do not absorb", "[film]") {
    const FlakeCoefficients optics = diffuse_coefficients(lossless(0.3, 0.2), {PerMicrometre{0.01}, 2});
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        CHECK_THAT(optics.K[band], WithinAbs(0, 1e-15));
        const double ratio = 550 / colour::band_nm(band);
        CHECK_THAT(optics.S[band], WithinAbs(0.06 + 0.01 * ratio * ratio, 1e-15));
    }
    FlakeStructure silver;
    silver.kind = paint::FlakeKind::aluminium;
    const paint::EffectPigment mirrors = flakes_of(silver, 0.2);
    const FlakeCoefficients dark = diffuse_coefficients(mirrors);
    CHECK(dark.K[17] + dark.S[17] == Approx(0.2).epsilon(1e-5));  // opaque: nothing is transmitted
    CHECK(dark.K[17] / dark.S[17] == Approx(0.13).margin(0.03));
}

TEST_CASE("lossless flakes over a perfect white stay white", "[film][property]") {
    for (const double m : {0.01, 0.1, 1.0, 10.0}) {
        const FlakeCoefficients optics = diffuse_coefficients(lossless(0.4, m));
        CHECK_THAT(reflectance_over(layer(optics.K[0], optics.S[0], 20), 1), WithinAbs(1, 1e-12));
    }
}

TEST_CASE("grams, shares and platelet hits are consistent", "[film]") {
    const GramsPerMillilitre density{3.1};
    const Share solids{0.35};
    for (const double grams : {0.0, 5.0, 25.0, 60.0}) {
        const Share share = flake_share(GramsPerLitre{grams}, density, solids);
        CHECK_THAT(flakes_to_add(share, density, solids).value, WithinAbs(grams, 1e-9));
    }
    // 31 g are 10 ml beside 350 ml of binder.
    CHECK(flake_share(GramsPerLitre{31}, density, solids).value == Approx(10.0 / 360));
    CHECK(platelet_hits_per_um(Share{0.05}, Micrometres{0.5}) == Approx(0.1));
    // 1 hit on average: as many flakes as would tile the area without a gap.
    paint::EffectPigment flakes = lossless(0.3, 0.1);
    flakes.size = Micrometres{20};
    CHECK(flakes_per_cm2(flakes, Micrometres{10}) == Approx(1e8 / (std::numbers::pi * 100)));
    // 5 ml of powder at 0.25 g/ml (common practice, no source).
    CHECK(weight_of_spoons(2, GramsPerMillilitre{0.25}).value == Approx(2.5));
}
