#include "fadewright/film/hiding.h"

#include "fadewright/base/random.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("hiding power agrees with the table, every row and both grounds", "[film][published]") {
    for (const auto& row : test::published_rows("hiding_sx.csv")) {
        const double R_inf = row.number("Rinf");
        CAPTURE(R_inf);
        CHECK_THAT(ks_ratio(R_inf), WithinAbs(row.number("K_over_S"), 6e-11));
        const auto over_chart = scattering_power_to_hide(R_inf, kFullHiding, {0, 0.80});
        const auto over_perfect = scattering_power_to_hide(R_inf, kFullHiding, {0, 1});
        REQUIRE(over_chart);
        REQUIRE(over_perfect);
        constexpr double printed = 6e-9;  // the table is printed to 8 places
        CHECK_THAT(*over_chart, WithinAbs(row.number("SX_CR098_black0_white080"), printed));
        CHECK_THAT(*over_perfect, WithinAbs(row.number("SX_CR098_black0_white100"), printed));
    }
}

TEST_CASE("a white of reflectance .90 that hides at 75 micrometres scatters .122 per micrometre", "[film]") {
    const double S = 0.122;
    const auto film = film_to_hide(PerMicrometre{ks_ratio(0.90) * S}, PerMicrometre{S}, kFullHiding, {});
    REQUIRE(film);
    CHECK_THAT(film->value, WithinAbs(75, 0.1));
}

TEST_CASE("five coats hide step by step", "[film]") {
    // A light paint of S 0.2 at 8 micrometres per coat (illustrative figures of the trade, no source). The
    // paint's absorption is not given; the one that gives the last figure must give the others too, to the
    // places printed.
    const double expected[] = {0.74, 0.89, 0.95, 0.975, 0.987};
    const HidingChart chart{0, 0.80};
    double low = 0, high = 1;
    const auto ratio = [&](double K, int coat) { return contrast_ratio(layer(K, 0.2, 8.0 * coat), chart); };
    for (int i = 0; i < 60; ++i) {
        const double K = (low + high) / 2;
        (ratio(K, 5) < expected[4] ? low : high) = K;
    }
    double before = 0;
    for (int coat = 1; coat <= 5; ++coat) {
        CAPTURE(coat, low);
        CHECK_THAT(ratio(low, coat), WithinAbs(expected[coat - 1], coat <= 3 ? 0.005 : 0.0005));
        CHECK(ratio(low, coat) > before);
        before = ratio(low, coat);
    }
}

TEST_CASE("a film at the hiding thickness has the target ratio", "[film][property]") {
    for (std::uint64_t i = 0; i < 40; ++i) {
        const double S = std::pow(10.0, -2 + 1.5 * uniform01(21, 1, i));
        const double K = S * std::pow(10.0, -2 + 4 * uniform01(21, 2, i));
        const double target_ratio = 0.9 + 0.09 * uniform01(21, 3, i);
        CAPTURE(K, S, target_ratio);
        const HidingChart chart{0.03, 0.85};
        const auto film = film_to_hide(PerMicrometre{K}, PerMicrometre{S}, target_ratio, chart);
        REQUIRE(film);
        CHECK_THAT(contrast_ratio(layer(K, S, film->value), chart), WithinAbs(target_ratio, 1e-12));
        CHECK(contrast_ratio(layer(K, S, 0.99 * film->value), chart) < target_ratio);
    }
}

TEST_CASE("a clear film never hides", "[film]") {
    CHECK_FALSE(film_to_hide(PerMicrometre{0}, PerMicrometre{0}, kFullHiding, {0.02, 0.8}));
    CHECK_FALSE(film_to_hide(PerMicrometre{0.5}, PerMicrometre{0}, kFullHiding, {0.02, 0.8}));
}

TEST_CASE("a chart returns K and S of the film drawn down on it", "[film]") {
    // Readings computed from K, S and X with the closed form, printed to 8 places.
    struct Drawn {
        double K, S, X;
        HidingChart bare;
        double over_black, over_white;
    };
    const Drawn drawn[] = {{0.02, 0.3, 5, {0.04, 0.80}, 0.56035792, 0.73338924},
                           {0.5, 0.05, 3, {0.04, 0.80}, 0.04534143, 0.07472540},
                           {1.5, 0.4, 1, {0.02, 0.78}, 0.10436903, 0.12411260},
                           {0.005, 0.15, 25, {0.01, 0.85}, 0.72502705, 0.78550843}};
    for (const auto& d : drawn) {
        CAPTURE(d.K, d.S, d.X);
        CHECK_THAT(reflectance_over(layer(d.K, d.S, d.X), d.bare.black), WithinAbs(d.over_black, 6e-9));
        CHECK_THAT(reflectance_over(layer(d.K, d.S, d.X), d.bare.white), WithinAbs(d.over_white, 6e-9));
        const auto read = ks_from_chart(d.over_black, d.over_white, d.bare, Micrometres{d.X});
        REQUIRE(read);
        CHECK_THAT(read->K.value, WithinRel(d.K, 1e-5));  // readings of 8 places leave 5 to 6 digits
        CHECK_THAT(read->S.value, WithinRel(d.S, 1e-5));
    }
}

TEST_CASE("readings invert films, also without absorption or scattering", "[film][property]") {
    int max_ratio = 0;
    for (std::uint64_t i = 0; i < 400; ++i) {
        const double X = 2 + 20 * uniform01(22, 1, i);
        const double S = i % 9 == 4 ? 0 : std::pow(10.0, -1.5 + 2.5 * uniform01(22, 2, i)) / X;
        const double K = i % 7 == 2 ? 0 : std::pow(10.0, -2.5 + 2.5 * uniform01(22, 3, i)) / X;
        const HidingChart bare{i % 5 == 0 ? 0 : 0.04, 0.82};
        const Layer coat = layer(K, S, X);
        const double ratio = contrast_ratio(coat, bare);
        if (ratio > 0.97) continue;
        if (ratio > 0.9) ++max_ratio;
        CAPTURE(K * X, S * X, X, ratio);
        const auto read = ks_from_chart(reflectance_over(coat, bare.black),
                                        reflectance_over(coat, bare.white), bare, Micrometres{X});
        REQUIRE(read);
        CHECK_THAT(read->K.value * X, WithinAbs(K * X, 1e-9));
        CHECK_THAT(read->S.value * X, WithinAbs(S * X, 1e-9));
    }
    CHECK(max_ratio > 10);  // the difficult end was included
}

TEST_CASE("readings that no film can give are refused", "[film]") {
    const HidingChart bare{0.04, 0.80};
    CHECK_FALSE(ks_from_chart(0.5, 0.4, bare, Micrometres{10}));    // brighter over black
    CHECK_FALSE(ks_from_chart(0.4, 0.4, bare, Micrometres{10}));    // full hiding: no information
    CHECK_FALSE(ks_from_chart(0.04, 0.95, bare, Micrometres{10}));  // brighter than the bare card
    CHECK_FALSE(ks_from_chart(0.01, 0.79, bare, Micrometres{10}));  // darker over black, unchanged over white
    CHECK_FALSE(ks_from_chart(0.3, 0.5, bare, Micrometres{0}));
}
