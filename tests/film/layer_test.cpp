#include "fadewright/film/layer.h"

#include "fadewright/base/random.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <vector>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kRounding = 4 * std::numeric_limits<double>::epsilon();

struct SomeFilm {
    double K, S, X;
};

// Films from nearly clear to black, thin to thick, some without absorption or without scattering.
std::vector<SomeFilm> some_films(std::uint64_t seed, std::size_t count) {
    std::vector<SomeFilm> films;
    for (std::size_t i = 0; i < count; ++i) {
        const auto power = [&](std::uint64_t stream, double low, double high) {
            return std::pow(10.0, low + (high - low) * uniform01(seed, stream, i));
        };
        films.push_back(
            {i % 11 == 3 ? 0 : power(1, -5, 1), i % 13 == 5 ? 0 : power(2, -4, 0), power(3, -2, 2)});
    }
    return films;
}

}  // namespace

TEST_CASE("films agree with 50-digit arithmetic, every row", "[film][published]") {
    for (const auto& row : test::published_rows("km_layer.csv")) {
        const double K = row.number("K"), S = row.number("S"), X = row.number("X"), R_g = row.number("Rg");
        CAPTURE(K, S, X, R_g);
        const Layer coat = layer(K, S, X);
        CHECK_THAT(coat.R0, WithinRel(row.number("R0"), 1e-12));
        CHECK_THAT(coat.T, WithinRel(row.number("T"), 1e-12));
        CHECK_THAT(reflectance_over(coat, R_g), WithinRel(row.number("R"), 1e-12));
    }
}

TEST_CASE("a film that does not absorb follows SX / (1 + SX)", "[film]") {
    for (double SX : {1e-6, 0.1, 1.0, 8.0, 1e4}) {
        const Layer coat = layer(0, SX, 1);
        CHECK_THAT(coat.R0, WithinRel(SX / (1 + SX), 1e-14));
        CHECK_THAT(coat.T, WithinRel(1 / (1 + SX), 1e-14));
        for (double R_g : {0.0, 0.3, 0.8, 1.0})
            CHECK_THAT(reflectance_over(coat, R_g),
                       WithinRel((R_g + SX * (1 - R_g)) / (1 + SX * (1 - R_g)), 1e-13));
    }
}

TEST_CASE("a film that does not scatter dims the ground twice", "[film]") {
    for (double KX : {1e-6, 0.1, 1.0, 8.0}) {
        const Layer coat = layer(KX, 0, 1);
        CHECK(coat.R0 == 0);
        CHECK_THAT(reflectance_over(coat, 0.7), WithinRel(0.7 * std::exp(-2 * KX), 1e-13));
    }
}

TEST_CASE("no film leaves the ground unchanged", "[film][property]") {
    for (const auto& [K, S, X] : some_films(11, 60))
        for (double R_g : {0.0, 0.4, 1.0}) CHECK(reflectance_over(layer(K, S, 0), R_g) == R_g);
}

TEST_CASE("a thin film changes the ground at the rate of the differential equation", "[film]") {
    const double K = 0.3, S = 0.2, X = 1e-5;
    for (double R_g : {0.0, 0.25, 0.9}) {
        const double rate = S - 2 * (K + S) * R_g + S * R_g * R_g;
        // The next term of the series is below (K + S)^2 X^2 times a few.
        CHECK_THAT(reflectance_over(layer(K, S, X), R_g), WithinAbs(R_g + X * rate, 2e-10));
    }
}

TEST_CASE("thick films have the closed-form reflectance of K/S", "[film]") {
    CHECK_THAT(r_infinity(0.5, 1), WithinRel((3 - std::sqrt(5.0)) / 2, 1e-15));
    CHECK_THAT(r_infinity(1, 1), WithinRel(2 - std::sqrt(3.0), 1e-15));
    CHECK_THAT(r_infinity(0.25, 1), WithinRel(0.5, 1e-15));
    CHECK_THAT(r_infinity(1.6, 1), WithinRel(0.2, 1e-15));
    CHECK_THAT(r_infinity(0.025, 1), WithinRel(0.8, 1e-15));
    CHECK_THAT(r_infinity(4.05, 1), WithinRel(0.1, 1e-15));
    CHECK_THAT(r_infinity(0.1, 1), WithinRel(1.1 - std::sqrt(0.21), 1e-15));
    CHECK(r_infinity(0, 0.2) == 1);
    CHECK(r_infinity(0.2, 0) == 0);
    CHECK(r_infinity(0, 0) == 0);
}

TEST_CASE("K/S and the masstone invert each other", "[film]") {
    for (double R : {0.001, 0.05, 0.3, 0.9, 0.999})
        CHECK_THAT(r_infinity(ks_ratio(R), 1), WithinRel(R, 1e-12));
}

TEST_CASE("a film thick enough hides its ground", "[film][property]") {
    for (const auto& [K, S, X] : some_films(12, 60)) {
        if (K == 0) continue;  // a perfect white approaches 1 only as 1 / SX
        CAPTURE(K, S);
        const double thickness = 40 / std::sqrt(K * (K + 2 * S));
        for (double R_g : {0.0, 0.5, 1.0})
            CHECK_THAT(reflectance_over(layer(K, S, thickness), R_g), WithinAbs(r_infinity(K, S), 1e-14));
    }
}

TEST_CASE("no film reflects more than the incident light", "[film][property]") {
    for (const auto& [K, S, X] : some_films(13, 200)) {
        CAPTURE(K, S, X);
        const Layer coat = layer(K, S, X);
        CHECK(coat.R0 >= 0);
        CHECK(coat.T >= 0);
        CHECK(coat.R0 + coat.T <= 1 + kRounding);
        for (double R_g : {0.0, 0.2, 0.8, 1.0}) {
            CHECK(reflectance_over(coat, R_g) >= 0);
            CHECK(reflectance_over(coat, R_g) <= 1 + kRounding);
        }
    }
}

TEST_CASE("splitting a coat into two changes nothing", "[film][property]") {
    for (const auto& [K, S, X] : some_films(14, 200)) {
        CAPTURE(K, S, X);
        const Layer whole = layer(K, S, X);
        const Layer lower = layer(K, S, 0.3 * X);
        const Layer upper = layer(K, S, 0.7 * X);
        const Layer both = combine(upper, lower);
        CHECK_THAT(both.R0, WithinAbs(whole.R0, 1e-14));
        CHECK_THAT(both.T, WithinAbs(whole.T, 1e-14));
        for (double R_g : {0.0, 0.6, 1.0})
            CHECK_THAT(reflectance_over(upper, reflectance_over(lower, R_g)),
                       WithinAbs(reflectance_over(whole, R_g), 1e-14));
    }
}

TEST_CASE("a ground of the masstone's reflectance is unchanged", "[film][property]") {
    for (const auto& [K, S, X] : some_films(15, 60)) {
        if (S == 0) continue;  // its thick film is black, which any film leaves black
        CAPTURE(K, S, X);
        CHECK_THAT(reflectance_over(layer(K, S, X), r_infinity(K, S)), WithinAbs(r_infinity(K, S), 1e-14));
    }
}

TEST_CASE("more film moves every ground towards the masstone and never past it", "[film][property]") {
    for (const auto& [K, S, X] : some_films(16, 60)) {
        for (double R_g : {0.0, 0.5, 1.0}) {
            CAPTURE(K, S, X, R_g);
            const double end = K == 0 && S == 0 ? R_g : r_infinity(K, S);
            double distance = std::abs(R_g - end);
            for (int step = 1; step <= 8; ++step) {
                const double R = reflectance_over(layer(K, S, X * step / 8), R_g);
                CHECK(std::abs(R - end) <= distance + 1e-15);
                CHECK((R - end) * (R_g - end) >= -1e-15);
                distance = std::abs(R - end);
            }
        }
    }
}

TEST_CASE("a coat over many points is the film at each point", "[film][property]") {
    for (const auto& [K, S, X] : some_films(17, 20)) {
        const std::vector<double> film{0, X, 0.1 * X, 3 * X, X};
        const std::vector<double> ground{0.2, 0.0, 1.0, 0.6, 0.6};
        std::vector<double> R = ground;
        kernels::lay_coat(film, K, S, R);
        for (std::size_t i = 0; i < R.size(); ++i)
            CHECK(R[i] == reflectance_over(layer(K, S, film[i]), ground[i]));
    }
}

TEST_CASE("the order of two different coats matters", "[film]") {
    const Layer white = layer(0, 0.2, 10), black = layer(2, 0.02, 10);
    CHECK(reflectance_over(white, reflectance_over(black, 0.5)) > 0.6);
    CHECK(reflectance_over(black, reflectance_over(white, 0.5)) < 0.01);
    CHECK_THAT(combine(white, black).T, WithinRel(combine(black, white).T, 1e-13));
}

TEST_CASE("a perfect white stays at 1 to the last bit", "[film]") {
    CHECK(reflectance_over(layer(0, 1e20, 1), 1) == 1);
    CHECK(combine(layer(0, 1e20, 1), layer(0, 1e20, 1)).R0 == 1);
}
