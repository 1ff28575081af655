#include "fadewright/spray/incomplete_beta.h"

#include "some_guns.h"

#include <catch2/catch.hpp>

#include <functional>
#include <numbers>

using namespace fadewright;
using namespace fadewright::spray;

namespace {

const double kPlaces[] = {-0.9999, -0.97, -0.8, -0.5, -0.2, -0.01, 0.0,
                          0.003,   0.1,   0.4,  0.6,  0.9,  0.999, 0.9999999};

}  // namespace

TEST_CASE("the cumulative share agrees with the elementary integrals", "[spray]") {
    const double pi = std::numbers::pi;
    const auto root = [](double u) { return std::sqrt((1 - u) * (1 + u)); };
    const std::vector<std::pair<double, std::function<double(double)>>> exact{
        {1.0, [](double u) { return (1 + u) / 2; }},
        {1.5, [&](double u) { return 0.5 + (u * root(u) + std::asin(u)) / pi; }},
        {2.0, [](double u) { return (2 + 3 * u - u * u * u) / 4; }},
        {2.5, [&](double u) { return 0.5 + (u * (5 - 2 * u * u) * root(u) + 3 * std::asin(u)) / (3 * pi); }},
        {3.0, [](double u) { return (8 + 15 * u - 10 * u * u * u + 3 * std::pow(u, 5)) / 16; }}};
    for (const auto& [beta, share] : exact)
        for (const double u : kPlaces) {
            CAPTURE(beta, u);
            CHECK(IncompleteBeta(beta).cumulative(u).share == Approx(share(u)).margin(1e-14).epsilon(0));
        }
}

TEST_CASE("cumulative share and moment agree with numerical integration for any taper", "[spray]") {
    for (const double beta : {1.0, 1.25, 1.7, 2.2, 3.5, 4.0, 6.3, 9.0, 20.0, 50.0}) {
        const IncompleteBeta curve(beta);
        const auto density = [&](double u) { return std::pow((1 - u) * (1 + u), beta - 1) / curve.total(); };
        CHECK(test::integral(-1, 1, density, 40000) == Approx(1).margin(1e-8));
        for (const double u : kPlaces) {
            CAPTURE(beta, u);
            // From the nearer end; the power at that end is softened by the sine, the other end is smooth.
            const double near =
                u > 0 ? 1 - test::integral(u, 1, density, 20000) : test::integral(-1, u, density, 20000);
            const double moment = test::integral(
                -1, u, [&](double t) { return t * density(t); }, 20000);
            CHECK(curve.cumulative(u).share == Approx(near).margin(1e-8).epsilon(0));
            CHECK(curve.cumulative(u).moment == Approx(moment).margin(1e-8).epsilon(0));
        }
    }
}

TEST_CASE("the cumulative share is 0 before the front and 1 behind the back", "[spray]") {
    for (const double beta : {1.0, 2.3}) {
        const IncompleteBeta curve(beta);
        CHECK(curve.cumulative(-1).share == 0);
        CHECK(curve.cumulative(-7).share == 0);
        CHECK(curve.cumulative(1).share == 1);
        CHECK(curve.cumulative(7).moment == 0);
        CHECK(curve.cumulative(0).share == Approx(0.5).margin(1e-14));
    }
}

TEST_CASE("a fixed power is the power", "[spray]") {
    for (const double exponent : {0.0, 0.5, 1.0, 1.5, 2.0, 2.75, 3.5, 8.0, 19.5, -0.5})
        for (const double x : {1e-6, 0.02, 0.5, 1.0, 1.7}) {
            CAPTURE(exponent, x);
            CHECK(FixedPower(exponent)(x) == Approx(std::pow(x, exponent)).epsilon(1e-14));
        }
}
