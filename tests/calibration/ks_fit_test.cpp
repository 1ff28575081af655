#include "fadewright/calibration/ks_fit.h"

#include "fadewright/base/random.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/film/stack.h"
#include "some_paints.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <numbers>

using namespace fadewright;
using namespace fadewright::film;
using namespace fadewright::calibration;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using colour::kBandCount;
using colour::Reflectance;

namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

DrawdownReading reading(const paint::MixedPaint& mix, double film_um, double bare,
                        SaundersonCorrection surface, Specular specular) {
    DrawdownReading r;
    r.film = Micrometres{film_um};
    r.ground = Reflectance::constant(bare);
    r.measured = through_surface(
        std::isinf(film_um) ? masstone(mix) : reflectance_over(mix, r.film, r.ground), surface, specular);
    return r;
}

paint::MixedPaint even(double K, double S) {
    return test::unmixed(test::make_paint(colour::Absorption::constant(K), colour::Scattering::constant(S)));
}

}  // namespace

TEST_CASE("one film over black and white returns its K and S", "[film]") {
    struct Drawn {
        double K, S, X, black, white;
    };
    const Drawn drawn[] = {{0.02, 0.3, 5, 0.04, 0.80},
                           {0.5, 0.05, 3, 0.04, 0.80},
                           {1.5, 0.4, 1, 0.02, 0.78},
                           {0.005, 0.15, 25, 0.01, 0.85}};
    const SaundersonCorrection surfaces[] = {kNoSurface, surface_at_normal({})};
    for (const Drawn& d : drawn)
        for (const SaundersonCorrection surface : surfaces)
            for (const Specular specular : {Specular::included, Specular::excluded}) {
                const auto mix = even(d.K, d.S);
                std::vector<DrawdownReading> readings{reading(mix, d.X, d.black, surface, specular),
                                                      reading(mix, d.X, d.white, surface, specular)};
                for (DrawdownReading& r : readings) r.noise = 1e-4;  // else the last but one counts as hiding
                const PaintFit fit = fit_ks(readings, surface, specular);
                CAPTURE(d.K, d.S, d.X);
                CHECK_THAT(fit.K[9], WithinRel(d.K, 1e-6));
                CHECK_THAT(fit.S[9], WithinRel(d.S, 1e-6));
                CHECK(fit.rms_error < 1e-9);
                CHECK(fit.bands[9].K.low < d.K);
                CHECK(fit.bands[9].K.high > d.K);
            }
}

TEST_CASE("exact readings return any paint between contrast ratios .3 and .97", "[film][property]") {
    std::size_t tried = 0;
    for (std::uint64_t i = 0; i < 12; ++i) {
        paint::MixedPaint mix;
        for (std::size_t band = 0; band < kBandCount; ++band) {
            mix.S[band] = std::pow(10.0, -2.5 + 2 * uniform01(31, 2 * i, band));
            mix.K[band] = std::pow(10.0, -3.5 + 3 * uniform01(31, 2 * i + 1, band));
        }
        const SaundersonCorrection surface = surface_at_normal({});
        std::vector<DrawdownReading> readings;
        for (const double film : {6.0, 14.0})
            for (const double bare : {0.01, 0.9})
                readings.push_back(reading(mix, film, bare, surface, Specular::excluded));
        for (DrawdownReading& r : readings) r.noise = 1e-5;  // or dark bands near .97 would count as hiding
        const PaintFit fit = fit_ks(readings, surface, Specular::excluded);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            const double ratio = contrast_ratio(layer(mix.K[band], mix.S[band], 6), {0.01, 0.9});
            if (ratio < 0.3 || ratio > 0.97) continue;
            ++tried;
            CAPTURE(i, band, ratio);
            CHECK_THAT(fit.K[band], WithinRel(mix.K[band], 1e-6));
            CHECK_THAT(fit.S[band], WithinRel(mix.S[band], 1e-6));
        }
    }
    CHECK(tried > 100);
}

TEST_CASE("a dye has no scattering and a perfect white no absorption, and the fit returns 0", "[film]") {
    for (const auto& mix : {even(0.05, 0), even(0, 0.2), even(0, 0)}) {
        std::vector<DrawdownReading> readings;
        for (const double bare : {0.02, 0.85})
            readings.push_back(reading(mix, 8, bare, kNoSurface, Specular::included));
        const PaintFit fit = fit_ks(readings, kNoSurface, Specular::included);
        CHECK_THAT(fit.K[0], WithinAbs(mix.K[0], 1e-8));
        CHECK_THAT(fit.S[0], WithinAbs(mix.S[0], 1e-8));
        if (mix.K[0] == 0) CHECK(fit.bands[0].K.low == 0);
        if (mix.S[0] == 0) CHECK(fit.bands[0].S.low == 0);
        CHECK(fit.bands[0].K.high > mix.K[0]);
        CHECK(fit.bands[0].S.high > mix.S[0]);
    }
}

TEST_CASE("readings without information change nothing", "[film]") {
    const auto mix = even(0.08, 0.12);
    const SaundersonCorrection surface = surface_at_normal({});
    std::vector<DrawdownReading> readings{reading(mix, 7, 0.02, surface, Specular::included),
                                          reading(mix, 7, 0.9, surface, Specular::included)};
    const PaintFit before = fit_ks(readings, surface, Specular::included);
    readings.push_back(reading(mix, 0, 0.02, surface, Specular::included));    // bare card
    readings.push_back(reading(mix, 0, 0.9, surface, Specular::included));     // bare card
    readings.push_back(reading(mix, 1e-7, 0.9, surface, Specular::included));  // as good as bare
    const PaintFit after = fit_ks(readings, surface, Specular::included);
    CHECK_THAT(after.K[5], WithinRel(before.K[5], 1e-6));
    CHECK_THAT(after.S[5], WithinRel(before.S[5], 1e-6));
    CHECK_THAT(after.bands[5].K.high, WithinRel(before.bands[5].K.high, 1e-3));
}

TEST_CASE("an opaque black determines only K/S, and the fit reports it", "[film]") {
    const auto mix = even(6, 0.05);
    const SaundersonCorrection surface = surface_at_normal({});
    const std::vector<DrawdownReading> readings{reading(mix, 40, 0.02, surface, Specular::included),
                                                reading(mix, 40, 0.9, surface, Specular::included)};
    const PaintFit fit = fit_ks(readings, surface, Specular::included);
    for (const BandFit& band : fit.bands) {
        CHECK(band.S_extrapolated);
        CHECK(std::isinf(band.S.high));
        CHECK(std::isinf(band.S.uncertainty()));
    }
    // The fit still predicts the film of its reading.
    CHECK(fit.rms_error < readings[0].noise);
    CHECK(r_infinity(fit.K[3], fit.S[3]) < 2 * r_infinity(6, 0.05));
}

TEST_CASE("bare charts determine nothing", "[film]") {
    const std::vector<DrawdownReading> readings{reading(even(1, 1), 0, 0.5, kNoSurface, Specular::included)};
    const PaintFit fit = fit_ks(readings, kNoSurface, Specular::included);
    CHECK(std::isinf(fit.bands[0].K.high));
    CHECK(std::isinf(fit.bands[0].S.high));
    CHECK(fit.bands[0].K.low == 0);
}

TEST_CASE("bands that hide take their scattering from their neighbours", "[film]") {
    // Orange: absorbs everything in the blue, so that the ground shows through no film of the chart there.
    paint::AbsorptionModel model;
    model.edges.push_back({Nanometres{560}, Nanometres{8}, PerMicrometre{3}});
    const auto mix = test::unmixed(test::make_paint(
        paint::parametric_absorption(model), paint::parametric_scattering({PerMicrometre{0.05}, 0, {}})));
    const SaundersonCorrection surface = surface_at_normal({});
    std::vector<DrawdownReading> readings;
    for (const double bare : {0.02, 0.9})
        readings.push_back(reading(mix, 10, bare, surface, Specular::excluded));
    const PaintFit fit = fit_ks(readings, surface, Specular::excluded);
    CHECK(fit.bands[2].S_extrapolated);
    CHECK_FALSE(fit.bands[25].S_extrapolated);
    CHECK_THAT(fit.S[25], WithinRel(0.05, 1e-6));
    for (const std::size_t band : {0u, 2u, 8u, 12u}) {
        CHECK_THAT(fit.S[band], WithinRel(0.05, 0.2));
        CHECK_THAT(fit.K[band], WithinRel(mix.K[band], 0.2));
    }
}

TEST_CASE("a ladder of let-downs with a known white determines what an opaque film cannot", "[film]") {
    paint::Paint black =
        test::make_paint(colour::Absorption::constant(6), colour::Scattering::constant(0.05));
    paint::Paint white =
        test::make_paint(colour::Absorption::constant(2e-4), colour::Scattering::constant(0.22));
    white.role = paint::Role::white;
    white.pigment = Share{0.20};
    const SaundersonCorrection surface = surface_at_normal({});
    std::vector<DrawdownReading> readings{
        reading(test::unmixed(black), kInfinite, 0.5, surface, Specular::included)};
    for (const double parts : {2.0, 10.0, 50.0}) {
        const std::vector<paint::Part> ladder{{&black, 1}, {&white, parts}};
        const auto mix = paint::mix_paints(ladder);
        DrawdownReading r = reading(mix, kInfinite, 0.5, surface, Specular::included);
        r.share = Share{1 / (1 + parts)};
        for (std::size_t band = 0; band < kBandCount; ++band) {
            r.known_K[band] = mix.K[band] - r.share.value * black.K[band];
            r.known_S[band] = mix.S[band] - r.share.value * black.S[band];
        }
        readings.push_back(r);
    }
    const PaintFit fit = fit_ks(readings, surface, Specular::included);
    CHECK_FALSE(fit.bands[7].S_extrapolated);
    CHECK_THAT(fit.K[7], WithinRel(6.0, 1e-6));
    CHECK_THAT(fit.S[7], WithinRel(0.05, 1e-5));
    CHECK(fit.bands[7].K.uncertainty() < 0.03);
}

TEST_CASE("confidence intervals hold at the stated rate, for random paints", "[film][property]") {
    // Gaussian noise of a known size on films and bare halves; 2 films over black and white.
    constexpr double noise = 0.001;
    const SaundersonCorrection surface = surface_at_normal({});
    std::uint64_t drawn = 0;
    const auto gauss = [&] {
        const double u = uniform01(33, 1, drawn), v = uniform01(33, 2, drawn);
        ++drawn;
        return std::sqrt(-2 * std::log(1 - u)) * std::cos(2 * std::numbers::pi * v);
    };
    int inside_K = 0, inside_S = 0, all = 0;
    for (const auto& mix : test::random_mixes(34, 20)) {
        std::vector<DrawdownReading> readings;
        for (const double film : {5.0, 11.0})
            for (const double bare : {0.02, 0.9}) {
                DrawdownReading r = reading(mix, film, bare, surface, Specular::excluded);
                r.noise = noise;
                for (double& v : r.measured.values) v += noise * gauss();
                readings.push_back(r);
            }
        const PaintFit fit = fit_ks(readings, surface, Specular::excluded);
        CHECK(fit.noise_scale < 1.3);
        for (std::size_t band = 0; band < kBandCount; ++band) {
            const BandFit& b = fit.bands[band];
            ++all;
            inside_K += b.K.low <= mix.K[band] && mix.K[band] <= b.K.high;
            inside_S += b.S.low <= mix.S[band] && mix.S[band] <= b.S.high;
        }
    }
    CAPTURE(inside_K, inside_S, all);
    CHECK(inside_K > 0.93 * all);  // two standard errors: 95.4 %
    CHECK(inside_S > 0.93 * all);
}

TEST_CASE("masstone and coats to hide give a paint that hides in those coats", "[film]") {
    const SaundersonCorrection surface = surface_at_normal({});
    const auto weights = colour::tristimulus_weights(
        colour::standard_illuminant(colour::StandardIlluminant::D65), colour::Observer::two_degree);
    colour::Spd luminosity;
    for (std::size_t band = 0; band < kBandCount; ++band) luminosity[band] = weights.w[band][1];
    const HidingChart chart{0.02, 0.9};
    for (const double R : {0.03, 0.3, 0.8}) {
        const Micrometres hiding_film{24};
        const auto guess =
            ks_from_masstone(Reflectance::constant(R), hiding_film, chart, surface, luminosity);
        REQUIRE(guess);
        paint::MixedPaint mix;
        mix.K = guess->K;
        mix.S = guess->S;
        CHECK_THAT(contrast_ratio(mix, hiding_film, chart, surface, luminosity),
                   WithinAbs(kFullHiding, 1e-9));
        CHECK_THAT(masstone(mix)[4], WithinAbs(R, 1e-12));
    }
}
