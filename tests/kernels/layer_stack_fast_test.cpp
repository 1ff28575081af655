// The fast version against the reference implementation, for all possible paints and films.
#include "fadewright/kernels/layer_stack_fast.h"
#include "fadewright/kernels/layer_stack.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <vector>

using namespace fadewright::kernels;
using fast::Laydown;

namespace {

constexpr std::size_t kBands = 13, kPoints = 203;  // no multiple of any vector

struct Case {
    std::vector<double> K, S, film, reflectance;
};

// Absorption and scattering over five decades and sometimes 0, films from 0 to 80 µm, any ground.
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

std::vector<double> reference_coat(const Case& input, Laydown laydown, double splat_um) {
    std::vector<double> out = input.reflectance;
    for (std::size_t band = 0; band < kBands; ++band) {
        std::vector<double> band_values;
        for (std::size_t i = 0; i < kPoints; ++i) band_values.push_back(out[i * kBands + band]);
        const double K = input.K[band], S = input.S[band];
        if (laydown == Laydown::wet) lay_coat(input.film, K, S, band_values);
        if (laydown == Laydown::dots) lay_dots(input.film, splat_um, K, S, band_values);
        if (laydown == Laydown::automatic) lay_coalescing_dots(input.film, splat_um, K, S, band_values);
        for (std::size_t i = 0; i < kPoints; ++i) out[i * kBands + band] = band_values[i];
    }
    return out;
}

template <class Real>
double max_difference(const std::vector<double>& a, const std::vector<Real>& b) {
    double max_error = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        REQUIRE(std::isfinite(b[i]));
        max_error = std::max(max_error, std::abs(a[i] - static_cast<double>(b[i])));
    }
    return max_error;
}

template <class Real>
std::vector<Real> in(const std::vector<double>& values) {
    std::vector<Real> out;
    for (const double v : values) out.push_back(static_cast<Real>(v));
    return out;
}

template <class Real = double>
double max_difference_of_many(Laydown laydown, double splat_um) {
    std::mt19937 random(7);
    double max_error = 0;
    for (int i = 0; i < 200; ++i) {
        const Case input = random_case(random);
        std::vector<Real> fast_result = in<Real>(input.reflectance);
        fast::Coat<Real>(laydown, splat_um, input.K, input.S).lay(input.film, fast_result);
        max_error =
            std::max(max_error, max_difference(reference_coat(input, laydown, splat_um), fast_result));
    }
    return max_error;
}

}  // namespace

TEST_CASE("fast films are the reference films", "[kernels][quick]") {
    CHECK(max_difference_of_many(Laydown::wet, 0) < 1e-14);
}

TEST_CASE("fast dots are the reference dots, few droplets or many", "[kernels][quick]") {
    for (const double splat_um : {0.3, 1.0, 4.0, 30.0, 0.0}) {
        CAPTURE(splat_um);
        CHECK(max_difference_of_many(Laydown::dots, splat_um) < 1e-9);
    }
}

TEST_CASE("fast coalescing dots are the reference ones", "[kernels][quick]") {
    for (const double splat_um : {0.3, 1.0, 4.0, 30.0, 0.0}) {
        CAPTURE(splat_um);
        CHECK(max_difference_of_many(Laydown::automatic, splat_um) < 1e-9);
    }
}

TEST_CASE("single precision is accurate enough for pictures", "[kernels][quick]") {
    CHECK(max_difference_of_many<float>(Laydown::wet, 0) < 1e-6);
    for (const double splat_um : {0.3, 4.0, 30.0}) {
        CAPTURE(splat_um);
        CHECK(max_difference_of_many<float>(Laydown::dots, splat_um) < 1e-6);
        CHECK(max_difference_of_many<float>(Laydown::automatic, splat_um) < 1e-6);
    }
}

TEST_CASE("films at their limits: none, very thick, extreme K and S", "[kernels][quick]") {
    const std::vector<double> film{0, 1e-300, 1e-9, 1, 1e3, 1e9, 1e300}, ground{1, 0.5, 0};
    for (const double K : {0.0, 1e-12, 1.0, 1e6})
        for (const double S : {0.0, 1e-12, 1.0, 1e6})
            for (const double R_g : ground) {
                std::vector<double> plain(film.size(), R_g), fast = plain;
                std::vector<float> fast_single = in<float>(plain);
                lay_coat(film, K, S, plain);
                const std::vector<double> Ks{K}, Ss{S};
                fast::Coat<double>(Laydown::wet, 0, Ks, Ss).lay(film, fast);
                CAPTURE(K, S, R_g);
                CHECK(max_difference(plain, fast) < 1e-12);
                plain.back() = 0;
                fast_single.back() = 0;  // thicker than films are for pictures
                fast::Coat<float>(Laydown::wet, 0, Ks, Ss)
                    .lay({film.data(), film.size() - 1}, {fast_single.data(), fast_single.size() - 1});
                CHECK(max_difference(plain, fast_single) < 1e-6);
            }
}

TEST_CASE("points do not affect their neighbours", "[kernels][quick]") {
    std::mt19937 random(3);
    const Case input = random_case(random);
    for (const Laydown laydown : {Laydown::wet, Laydown::dots, Laydown::automatic}) {
        const fast::Coat<double> coat(laydown, 2, input.K, input.S);
        std::vector<double> together = input.reflectance;
        coat.lay(input.film, together);
        for (std::size_t i = 0; i < kPoints; i += 17) {
            const auto first = input.reflectance.begin() + static_cast<std::ptrdiff_t>(i * kBands);
            std::vector<double> alone(first, first + kBands);
            coat.lay({&input.film[i], 1}, alone);
            for (std::size_t band = 0; band < kBands; ++band)
                CHECK(alone[band] == together[i * kBands + band]);
        }
    }
}
