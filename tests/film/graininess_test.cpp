#include "fadewright/film/graininess.h"

#include "fadewright/base/random.h"
#include "fadewright/film/dots.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>
#include <numbers>
#include <vector>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;
using test::published_rows;

namespace {

const std::vector<double> kBlackOnWhite{0.85, 0.04};

// Means over many small periodic fields with discs at random points: their variance times the area of
// a field is the power of the noise, whatever the size of the field.
double simulated_power_per_splat(const std::vector<double>& reflectances, double splats, std::uint64_t seed,
                                 int fields) {
    constexpr int side = 64, radius = 10;
    std::vector<std::pair<int, int>> disc;
    for (int y = -radius; y <= radius; ++y)
        for (int x = -radius; x <= radius; ++x)
            if (x * x + y * y <= radius * radius) disc.emplace_back(x, y);
    const double area = static_cast<double>(disc.size());
    const double expected = splats * side * side / area;
    std::uint64_t index = 0;
    const auto next = [&] { return uniform01(seed, 3, index++); };
    const double mean = dot_statistics(reflectances, splats).mean;
    double squares = 0;
    for (int field = 0; field < fields; ++field) {
        std::vector<std::size_t> piled(static_cast<std::size_t>(side * side), 0);
        for (double at = -std::log1p(-next()); at < expected; at -= std::log1p(-next())) {
            const int x0 = static_cast<int>(next() * side), y0 = static_cast<int>(next() * side);
            for (const auto& [dx, dy] : disc)
                ++piled[static_cast<std::size_t>((y0 + dy + side) % side * side + (x0 + dx + side) % side)];
        }
        double sum = 0;
        for (const auto k : piled) sum += reflectances[std::min(k, reflectances.size() - 1)];
        const double off = sum / (side * side) - mean;
        squares += off * off;
    }
    return squares / fields * side * side / area;
}

}  // namespace

TEST_CASE("discs overlap by the area of a lens", "[film]") {
    CHECK(disc_overlap(0) == 1);
    CHECK(disc_overlap(1) == 0);
    CHECK(disc_overlap(1.5) == 0);
    CHECK_THAT(disc_overlap(0.5), WithinAbs(2.0 / 3 - std::sqrt(3.0) / (2 * std::numbers::pi), 1e-15));
}

TEST_CASE("the graininess of opaque dots agrees with its table", "[film][published_rows]") {
    for (const auto& row : published_rows("grain_number.csv")) {
        const double m = row.number("m");
        CAPTURE(m);
        CHECK_THAT(graininess_number(m), WithinAbs(row.number("n"), 5.1e-5));
        // The general sum has no special case for opaque dots.
        CHECK(graininess_per_splat(kBlackOnWhite, m) ==
              Approx(0.81 * 0.81 * graininess_number(m)).epsilon(1e-9));
    }
    CHECK(graininess_number(0) == 0);
    CHECK_THAT(graininess_number(2000), WithinAbs(0, 1e-300));
}

TEST_CASE("graininess is greatest near 43 % coverage", "[film][published_rows]") {
    double worst = 0.1;
    for (double m = 0.1; m < 2; m += 0.005)
        if (graininess_number(m) > graininess_number(worst)) worst = m;
    CHECK_THAT(worst, WithinAbs(0.57, 0.0075));
    CHECK_THAT(graininess_number(worst), WithinAbs(0.2091, 5e-5));
    CHECK_THAT(1 - std::exp(-worst), WithinAbs(0.43, 0.005));
}

TEST_CASE("additive splats have the noise of their number", "[film]") {
    // R_k = R_0 - h k: each splat subtracts h over its area, so the power is a m h^2 (shot noise).
    for (const double m : {0.2, 3.0, 30.0, 150.0, 250.0}) {
        CAPTURE(m);
        std::vector<double> linear;
        for (std::size_t k = 0; k < significant_splats(m); ++k)
            linear.push_back(0.9 - 1e-4 * static_cast<double>(k));
        CHECK(graininess_per_splat(linear, m) == Approx(m * 1e-8).epsilon(1e-6));
    }
}

TEST_CASE("transparent splats have the noise of their closed form", "[film]") {
    // R_k = q^k: the covariance is exp(-2 m (1 - q)) (exp(m k (1 - q)^2) - 1), so the power is that of opaque
    // dots with m (1 - q)^2 in the exponent.
    for (const double q : {0.0, 0.3, 0.8})
        for (const double m : {0.1, 1.0, 6.0}) {
            CAPTURE(q, m);
            std::vector<double> glaze;
            for (std::size_t k = 0; k < significant_splats(m); ++k)
                glaze.push_back(std::pow(q, static_cast<double>(k)));
            const double u = m * (1 - q) * (1 - q);
            const double closed = std::exp(-2 * m * (1 - q) + 2 * u) * graininess_number(u);
            CHECK(graininess_per_splat(glaze, m) == Approx(closed).epsilon(1e-7));
        }
}

TEST_CASE("simulated dots are as grainy as calculated", "[film]") {
    constexpr int fields = 6000;
    // The variance of so many fields is known to a relative sqrt(2 / fields), if their means are nearly
    // normal; a disc of cells overlaps slightly differently from a true one.
    const double error = std::sqrt(2.0 / fields);
    constexpr double cells = 0.01;
    std::uint64_t seed = 77;
    for (const double m : {0.1, 0.5, 1.0, 2.0}) {
        CAPTURE(m);
        const auto white = reflectance_by_splat_count(0, 0.5, 1, 0.04, m);
        const auto glaze = reflectance_by_splat_count(0.4, 0.05, 1, 0.85, m);
        for (const auto& R : {kBlackOnWhite, white, glaze}) {
            const double power = graininess_per_splat(R, m);
            CHECK(simulated_power_per_splat(R, m, ++seed, fields) ==
                  Approx(power).epsilon(3 * error + cells));
        }
    }
}

TEST_CASE("finer splats of the same paint are less grainy", "[film][property]") {
    double before = 1;
    for (const double splat_um : {4.0, 2.0, 1.0, 0.5, 0.05, 0.005}) {
        const double m = 3 / splat_um;
        const double power = graininess_per_splat(reflectance_by_splat_count(0.2, 0.1, splat_um, 0.8, m), m);
        CAPTURE(splat_um, power);
        CHECK(power < before);
        before = power;
    }
}

TEST_CASE("the filter of the eye has its stated width", "[film][published_rows]") {
    double squares = 0, best = 0, best_at = 0;
    constexpr double step = 0.001;
    for (double u = step / 2; u < 150; u += step) {
        const double v = eye_response(u);
        squares += 2 * std::numbers::pi * u * v * v * step;
        if (v > best) best = v, best_at = u;
    }
    CHECK_THAT(std::sqrt(squares), WithinAbs(23.3, 0.05));
    CHECK_THAT(best, WithinAbs(1, 0.005));
    CHECK_THAT(best_at, WithinAbs(5.45, 0.01));
    // White noise of power 1 mm2, viewed so that a degree is one millimetre.
    CHECK_THAT(visible_graininess(1, Millimetres{180 / std::numbers::pi}),
               WithinAbs(std::sqrt(squares), 0.05));
}

TEST_CASE("the visibility of black dots on white agrees with its table", "[film][published_rows]") {
    for (const auto& row : published_rows("grain_visible.csv")) {
        const double m = row.number("m");
        const Millimetres distance{1e3 * row.number("distance_m")};
        CAPTURE(row.text("splat_um"), m, distance.value);
        const double a = splat_area_mm2(Millimetres{row.number("splat_um") / 1e3});
        const double sigma_Y = visible_graininess(a * graininess_per_splat(kBlackOnWhite, m), distance);
        const double sigma_L = graininess_in_lightness(sigma_Y, dot_statistics(kBlackOnWhite, m).mean);
        CHECK_THAT(sigma_L, WithinAbs(row.number("sigma_L"), row.number("tolerance")));
    }
}

TEST_CASE("graininess in lightness follows the derivative of L*", "[film]") {
    // dL* = (L* + 16) / 3 dY / Y; per cent of luminance at L* 50 and 80, printed to two places.
    const auto Y_of = [](double L) { return std::pow((L + 16) / 116, 3); };
    CHECK_THAT(graininess_in_lightness(0.01 * Y_of(50), Y_of(50)), WithinAbs(0.22, 0.005));
    CHECK_THAT(graininess_in_lightness(0.01 * Y_of(80), Y_of(80)), WithinAbs(0.32, 0.005));
    CHECK_THAT(graininess_in_lightness(0.01 * Y_of(20), Y_of(20)), WithinAbs(0.12, 0.005));
    // No step where the linear part near black begins.
    constexpr double joint = 216.0 / 24389;
    CHECK(graininess_in_lightness(1e-3, joint * (1 - 1e-9)) ==
          Approx(graininess_in_lightness(1e-3, joint * (1 + 1e-9))).epsilon(1e-6));
}

TEST_CASE("graininess has four grades", "[film]") {
    CHECK(grade_graininess(0.29) == GraininessGrade::invisible);
    CHECK(grade_graininess(0.3) == GraininessGrade::just_visible);
    CHECK(grade_graininess(1.01) == GraininessGrade::grainy);
    CHECK(grade_graininess(3.01) == GraininessGrade::coarse);
}
