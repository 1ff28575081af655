#include "fadewright/base/random.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using fadewright::normal_quantile;

namespace {

double cumulative_normal(double x) { return std::erfc(-x / std::numbers::sqrt2) / 2; }

}  // namespace

TEST_CASE("the quantile function is the inverse of the normal distribution", "[base]") {
    for (double x = -6.5; x <= 6.5; x += 0.01) {
        CAPTURE(x);
        // Near 1 the probability itself has a rounding error, which is larger and larger in x.
        const double density = std::exp(-x * x / 2) / std::sqrt(2 * std::numbers::pi);
        const double rounding = x > 0 ? 1.2e-16 / density : 0;
        CHECK(normal_quantile(cumulative_normal(x)) == Approx(x).epsilon(1.2e-9).margin(1e-12 + rounding));
    }
}

TEST_CASE("the quantile function is antisymmetric about one half", "[base]") {
    CHECK(normal_quantile(0.5) == 0);
    for (const double p : {0.25, 0.125, 0.4375, 0.015625})
        CHECK(normal_quantile(p) == -normal_quantile(1 - p));
}
