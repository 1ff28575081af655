// The quick loops against the plain ones, which are the truth, over what paints and films can be.
#include "fadewright/kernels/quick_layers.h"
#include "fadewright/kernels/layer_stack.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <vector>

using namespace fadewright::kernels;
using quick::Drying;

namespace {

constexpr std::size_t kBands = 13, kPoints = 203;  // no multiple of any vector

struct Case {
    std::vector<double> K, S, film, reflectance;
};

// Absorption and scattering over five decades and sometimes none, films from none to 80 um, any ground.
Case random_case(std::mt19937& random) {
    std::uniform_real_distribution<double> unit(0, 1);
    const auto strength = [&] { return unit(random) < 0.1 ? 0 : std::pow(10, 5 * unit(random) - 5); };
    Case out;
    for (std::size_t band = 0; band < kBands; ++band) {
        out.K.push_back(strength());
        out.S.push_back(strength());
    }
    for (std::size_t i = 0; i < kPoints; ++i) {
        const double t = unit(random);
        out.film.push_back(t < 0.1 ? 0 : 80 * t * t * t);
    }
    for (std::size_t i = 0; i < kBands * kPoints; ++i) {
        const double t = 1.1 * unit(random) - 0.05;
        out.reflectance.push_back(t < 0 ? 0 : t > 1 ? 1 : t);
    }
    return out;
}

std::vector<double> plainly(const Case& given, Drying drying, double splat_um) {
    std::vector<double> out = given.reflectance;
    for (std::size_t band = 0; band < kBands; ++band) {
        std::vector<double> of_band;
        for (std::size_t i = 0; i < kPoints; ++i) of_band.push_back(out[i * kBands + band]);
        const double K = given.K[band], S = given.S[band];
        if (drying == Drying::film) lay_coat(given.film, K, S, of_band);
        if (drying == Drying::fog) lay_fog(given.film, splat_um, K, S, of_band);
        if (drying == Drying::as_it_lands) lay_as_it_lands(given.film, splat_um, K, S, of_band);
        for (std::size_t i = 0; i < kPoints; ++i) out[i * kBands + band] = of_band[i];
    }
    return out;
}

template <class Real>
double furthest(const std::vector<double>& a, const std::vector<Real>& b) {
    double most = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        REQUIRE(std::isfinite(b[i]));
        most = std::max(most, std::abs(a[i] - static_cast<double>(b[i])));
    }
    return most;
}

template <class Real>
std::vector<Real> in(const std::vector<double>& values) {
    std::vector<Real> out;
    for (const double v : values) out.push_back(static_cast<Real>(v));
    return out;
}

template <class Real = double>
double furthest_of_many(Drying drying, double splat_um) {
    std::mt19937 random(7);
    double most = 0;
    for (int i = 0; i < 200; ++i) {
        const Case given = random_case(random);
        std::vector<Real> quickly = in<Real>(given.reflectance);
        quick::Coat<Real>(drying, splat_um, given.K, given.S).lay(given.film, quickly);
        most = std::max(most, furthest(plainly(given, drying, splat_um), quickly));
    }
    return most;
}

}  // namespace

TEST_CASE("quick films are the plain ones", "[kernels][quick]") {
    CHECK(furthest_of_many(Drying::film, 0) < 1e-14);
}

TEST_CASE("quick fog is the plain one, few droplets or many", "[kernels][quick]") {
    for (const double splat_um : {0.3, 1.0, 4.0, 30.0, 0.0}) {
        CAPTURE(splat_um);
        CHECK(furthest_of_many(Drying::fog, splat_um) < 1e-9);
    }
}

TEST_CASE("what dries as it lands is the same quickly and plainly", "[kernels][quick]") {
    for (const double splat_um : {0.3, 1.0, 4.0, 30.0, 0.0}) {
        CAPTURE(splat_um);
        CHECK(furthest_of_many(Drying::as_it_lands, splat_um) < 1e-9);
    }
}

TEST_CASE("what is worked out for pictures alone is near enough for them", "[kernels][quick]") {
    CHECK(furthest_of_many<float>(Drying::film, 0) < 1e-6);
    for (const double splat_um : {0.3, 4.0, 30.0}) {
        CAPTURE(splat_um);
        CHECK(furthest_of_many<float>(Drying::fog, splat_um) < 1e-6);
        CHECK(furthest_of_many<float>(Drying::as_it_lands, splat_um) < 1e-6);
    }
}

TEST_CASE("films at their limits: nothing, everything, very deep", "[kernels][quick]") {
    const std::vector<double> film{0, 1e-300, 1e-9, 1, 1e3, 1e9, 1e300}, ground{1, 0.5, 0};
    for (const double K : {0.0, 1e-12, 1.0, 1e6})
        for (const double S : {0.0, 1e-12, 1.0, 1e6})
            for (const double R_g : ground) {
                std::vector<double> plain(film.size(), R_g), fast = plain;
                std::vector<float> seen = in<float>(plain);
                lay_coat(film, K, S, plain);
                const std::vector<double> Ks{K}, Ss{S};
                quick::Coat<double>(Drying::film, 0, Ks, Ss).lay(film, fast);
                CAPTURE(K, S, R_g);
                CHECK(furthest(plain, fast) < 1e-12);
                plain.back() = 0;
                seen.back() = 0;  // thicker than films are for pictures
                quick::Coat<float>(Drying::film, 0, Ks, Ss)
                    .lay({film.data(), film.size() - 1}, {seen.data(), seen.size() - 1});
                CHECK(furthest(plain, seen) < 1e-6);
            }
}

TEST_CASE("points do not feel their neighbours", "[kernels][quick]") {
    std::mt19937 random(3);
    const Case given = random_case(random);
    for (const Drying drying : {Drying::film, Drying::fog, Drying::as_it_lands}) {
        const quick::Coat<double> coat(drying, 2, given.K, given.S);
        std::vector<double> together = given.reflectance;
        coat.lay(given.film, together);
        for (std::size_t i = 0; i < kPoints; i += 17) {
            const auto first = given.reflectance.begin() + static_cast<std::ptrdiff_t>(i * kBands);
            std::vector<double> alone(first, first + kBands);
            coat.lay({&given.film[i], 1}, alone);
            for (std::size_t band = 0; band < kBands; ++band)
                CHECK(alone[band] == together[i * kBands + band]);
        }
    }
}
