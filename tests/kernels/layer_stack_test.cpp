#include "fadewright/kernels/layer_stack.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace fadewright::kernels;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// The differential form dR/dX = S - 2 (K + S) R + S R^2, solved step by step (classical Runge-Kutta).
double integrated_film(double K, double S, double X, double ground) {
    constexpr int steps = 4000;
    const double h = X / steps;
    const auto rate = [&](double R) { return S - 2 * (K + S) * R + S * R * R; };
    double R = ground;
    for (int i = 0; i < steps; ++i) {
        const double r1 = rate(R);
        const double r2 = rate(R + h / 2 * r1);
        const double r3 = rate(R + h / 2 * r2);
        const double r4 = rate(R + h * r3);
        R += h / 6 * (r1 + 2 * r2 + 2 * r3 + r4);
    }
    return R;
}

double dots_reflectance(double film, double splat, double K, double S, double ground) {
    std::vector<double> R{ground};
    lay_dots(std::vector<double>{film}, splat, K, S, R);
    return R[0];
}

}  // namespace

TEST_CASE("a coat over many points solves the differential equation at each", "[kernels]") {
    for (const auto& [K, S] : {std::pair{0.1, 0.3}, {0.0, 0.2}, {0.5, 0.0}, {0.002, 0.1}}) {
        const std::vector<double> film{0, 0.5, 3, 20, 7};
        std::vector<double> R{0.6, 0.04, 0.9, 0.5, 0.0};
        const std::vector<double> ground = R;
        lay_coat(film, K, S, R);
        for (std::size_t i = 0; i < R.size(); ++i) {
            CAPTURE(K, S, film[i], ground[i]);
            CHECK_THAT(R[i], WithinAbs(integrated_film(K, S, film[i], ground[i]), 1e-10));
        }
    }
}

TEST_CASE("an empty list of points is allowed", "[kernels]") {
    std::vector<double> none;
    lay_coat(none, 1, 1, none);
    lay_dots(none, 1, 1, 1, none);
    CHECK(none.empty());
}

TEST_CASE("dots without paint leave the ground unchanged to the last bit", "[kernels]") {
    CHECK(dots_reflectance(0, 2, 0.3, 0.2, 0.37) == 0.37);
    CHECK(dots_reflectance(0, 0, 0.3, 0.2, 0.37) == 0.37);
}

TEST_CASE("opaque splats cover by the Poisson distribution", "[kernels]") {
    // R = R_p (1 - exp(-m)) + R_g exp(-m); numbers computed independently, to 4 places.
    const double S = 1e3, R_p = 0.04, R_g = 0.85;
    const double K = S * (1 - R_p) * (1 - R_p) / (2 * R_p);
    for (const auto& [m, expected] : {std::pair{0.1, 0.7729}, {0.5, 0.5313}, {1.0, 0.3380}, {2.0, 0.1496}}) {
        CAPTURE(m);
        CHECK_THAT(dots_reflectance(m * 3, 3, K, S, R_g), WithinAbs(expected, 6e-5));
        CHECK_THAT(dots_reflectance(m * 3, 3, K, S, R_g), WithinRel(R_p + (R_g - R_p) * std::exp(-m), 1e-12));
    }
}

TEST_CASE("transparent splats dim the ground by exp(-m (1 - exp(-2a)))", "[kernels]") {
    // a: absorption of one splat, one way; numbers computed independently, to 4 places.
    struct Check {
        double a, m, dots, film;
    };
    for (const auto& c : {Check{1, 0.1, 0.9172, 0.8187},
                          {1, 0.5, 0.6490, 0.3679},
                          {1, 1, 0.4212, 0.1353},
                          {0.2, 5, 0.1924, 0.1353},
                          {0.05, 20, 0.1491, 0.1353}}) {
        CAPTURE(c.a, c.m);
        const double splat = 2, film = c.m * splat, K = c.a / splat;
        CHECK_THAT(dots_reflectance(film, splat, K, 0, 1), WithinAbs(c.dots, 6e-5));
        CHECK_THAT(dots_reflectance(film, splat, K, 0, 1),
                   WithinRel(std::exp(-c.m * (1 - std::exp(-2 * c.a))), 1e-12));
        CHECK_THAT(dots_reflectance(film, 0, K, 0, 1), WithinAbs(c.film, 6e-5));
    }
}

TEST_CASE("white splats over a dark ground are weaker than the same white spread evenly", "[kernels]") {
    struct Check {
        double S_splat, m, dots, film;
    };
    for (const auto& c : {Check{0.5, 0.25, 0.1133, 0.1429},
                          {0.5, 1, 0.2879, 0.3514},
                          {0.5, 2, 0.4471, 0.5102},
                          {0.5, 6, 0.7257, 0.7526},
                          {0.1, 10, 0.4982, 0.5102}}) {
        CAPTURE(c.S_splat, c.m);
        CHECK_THAT(dots_reflectance(c.m, 1, 0, c.S_splat, 0.04), WithinAbs(c.dots, 6e-5));
        CHECK_THAT(dots_reflectance(c.m, 0, 0, c.S_splat, 0.04), WithinAbs(c.film, 6e-5));
        CHECK(dots_reflectance(c.m, 1, 0, c.S_splat, 0.04) < dots_reflectance(c.m, 0, 0, c.S_splat, 0.04));
    }
}

TEST_CASE("ever finer dots converge to the film, across the change of method too", "[kernels]") {
    const double K = 0.05, S = 0.2, film = 20, ground = 0.1;
    const double even = dots_reflectance(film, 0, K, S, ground);
    double before = 1;
    for (double splat = 20; splat > 1e-4; splat /= 4) {
        const double error = std::abs(dots_reflectance(film, splat, K, S, ground) - even);
        CAPTURE(splat, error);
        CHECK(error < before);
        CHECK(error <= 2 * (K + S) * (K + S) * film * splat);
        before = error;
    }
    const double limit = film / kMaxSplats;
    CHECK_THAT(dots_reflectance(film, limit * 1.001, K, S, ground),
               WithinAbs(dots_reflectance(film, limit * 0.999, K, S, ground), 1e-5));
}

TEST_CASE("each point is independent", "[kernels]") {
    const std::vector<double> film{0, 30, 0.2, 4, 11};
    std::vector<double> together{0.3, 0.8, 0.0, 1.0, 0.5};
    const std::vector<double> ground = together;
    lay_dots(film, 1.5, 0.08, 0.15, together);
    for (std::size_t i = 0; i < film.size(); ++i)
        CHECK(together[i] == dots_reflectance(film[i], 1.5, 0.08, 0.15, ground[i]));
}
