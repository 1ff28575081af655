#include "fadewright/kernels/hash_gaussian.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <vector>

using fadewright::kernels::fast::lognormal_factors;

TEST_CASE("factors of noise agree with exp", "[kernels][quick]") {
    std::mt19937 random(3);
    std::normal_distribution<float> bell;
    std::uniform_real_distribution<float> unit(0, 1);
    std::vector<float> s, z;
    for (int i = 0; i < 100003; ++i) {
        s.push_back(2 * unit(random) * unit(random));
        z.push_back(bell(random));
    }
    std::vector<float> factors(s.size());
    lognormal_factors(s, z, factors);
    double max_error = 0;
    int squares = 0;
    for (std::size_t i = 0; i < s.size(); ++i) {
        const double d = static_cast<double>(s[i]), n = static_cast<double>(z[i]);
        const double exact = std::exp(d * n - d * d / 2);
        if (exact < 1e-3 || exact > 1e3) continue;
        ++squares;
        max_error = std::max(max_error, std::abs(static_cast<double>(factors[i]) / exact - 1));
    }
    CHECK(squares > 99000);
    CHECK(max_error < 1e-6);
}

TEST_CASE("no noise gives factors of 1, and extreme noise stays finite", "[kernels][quick]") {
    const std::vector<float> s{0, 0, 0, 50, 50, 9, 1e10f}, z{0, 3, -3, 90, -90, 1, 0};
    std::vector<float> factors(s.size());
    lognormal_factors(s, z, factors);
    CHECK(factors[0] == 1);
    CHECK(factors[1] == 1);
    CHECK(factors[2] == 1);
    for (const float f : factors) {
        CHECK(std::isfinite(f));
        CHECK(f > 0);
    }
}
