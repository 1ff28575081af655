#include "fadewright/calibration/gun_fit.h"

#include "fadewright/base/random.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <vector>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::calibration;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Gun round_gun(double sigma_mm) {
    Gun gun;
    gun.pattern = Pattern::round;
    gun.sigma = Millimetres{sigma_mm};
    return gun;
}

Gun fan_gun(double width_mm, double thickness_mm, double across, double along) {
    Gun gun;
    gun.pattern = Pattern::fan;
    gun.fan_width = Millimetres{width_mm};
    gun.fan_thickness = Millimetres{thickness_mm};
    gun.beta_across = across;
    gun.beta_along = along;
    return gun;
}

// Films of a gun by its footprint, in um.
std::vector<FilmReading> pass_films(const Gun& gun, double amount, double middle_mm, double noise_um,
                                    double half_mm, std::uint64_t seed = 1) {
    const Footprint footprint = footprint_of(gun);
    std::vector<FilmReading> films;
    for (int i = -150; i <= 150; ++i) {
        const double x = half_mm * i / 150;
        const double u = uniform01(seed, 1, static_cast<std::uint64_t>(i + 150)),
                     v = uniform01(seed, 2, static_cast<std::uint64_t>(i + 150));
        const double off = noise_um * std::sqrt(-2 * std::log(1 - u)) * std::cos(2 * std::numbers::pi * v);
        films.push_back({x, 0, 1000 * amount * pass_profile(footprint, x - middle_mm) + off,
                         noise_um > 0 ? noise_um : 0.01});
    }
    return films;
}

std::vector<FilmReading> spot_films(const Gun& gun, double amount, double across_mm, double along_mm,
                                    double half_mm) {
    const Footprint footprint = footprint_of(gun);
    std::vector<FilmReading> films;
    for (int i = -40; i <= 40; ++i)
        for (int j = -40; j <= 40; ++j) {
            const double x = half_mm * i / 40, y = half_mm * j / 40;
            films.push_back({x, y, 1000 * amount * value_at(footprint, x - across_mm, y - along_mm), 0.01});
        }
    return films;
}

}  // namespace

TEST_CASE("a noiseless pass of a round gun gives its sigma, centre and amount", "[spray][fit]") {
    const auto fit = fit_gun(pass_films(round_gun(7), 0.2, 3.5, 0, 40), Pattern::round, ShotKind::pass);
    REQUIRE(fit);
    CHECK_THAT(fit->sigma_mm.value, WithinRel(7.0, 1e-5));
    CHECK_THAT(fit->across_mm.value, WithinAbs(3.5, 1e-4));
    CHECK_THAT(fit->amount.value, WithinRel(0.2, 1e-5));
    CHECK(fit->rms_error_um < 1e-4);
    CHECK(fit->fan_width_mm.value == 0);
}

TEST_CASE("a noiseless pass of a fan gives its width and taper, flat and pointed ones too", "[spray][fit]") {
    for (const double taper : {1.2, 2.0, 2.7, 6.0}) {
        CAPTURE(taper);
        const auto fit =
            fit_gun(pass_films(fan_gun(120, 30, taper, 2), 0.6, -6, 0, 90), Pattern::fan, ShotKind::pass);
        REQUIRE(fit);
        CHECK_THAT(fit->fan_width_mm.value, WithinRel(120.0, 1e-5));
        CHECK_THAT(fit->beta_across.value, WithinRel(taper, 1e-5));
        CHECK_THAT(fit->amount.value, WithinRel(0.6, 1e-5));
        CHECK(fit->fan_thickness_mm.value == 0);
        CHECK_FALSE(fit->taper_at_limit);
    }
}

TEST_CASE("a noiseless spot gives the centre, both axes and both tapers", "[spray][fit]") {
    const auto round = fit_gun(spot_films(round_gun(6), 4, 2, -3, 30), Pattern::round, ShotKind::spot);
    REQUIRE(round);
    CHECK_THAT(round->sigma_mm.value, WithinRel(6.0, 1e-5));
    CHECK_THAT(round->amount.value, WithinRel(4.0, 1e-5));
    CHECK_THAT(round->along_mm.value, WithinAbs(-3.0, 1e-4));
    const auto fan =
        fit_gun(spot_films(fan_gun(80, 28, 2.6, 1.7), 30, -2, 4, 55), Pattern::fan, ShotKind::spot);
    REQUIRE(fan);
    CHECK_THAT(fan->fan_width_mm.value, WithinRel(80.0, 1e-5));
    CHECK_THAT(fan->fan_thickness_mm.value, WithinRel(28.0, 1e-5));
    CHECK_THAT(fan->beta_across.value, WithinRel(2.6, 1e-5));
    CHECK_THAT(fan->beta_along.value, WithinRel(1.7, 1e-5));
    CHECK_THAT(fan->across_mm.value, WithinAbs(-2.0, 1e-4));
    CHECK_THAT(fan->along_mm.value, WithinAbs(4.0, 1e-4));
}

TEST_CASE("stated errors agree with the scatter of fits to noise", "[spray][fit]") {
    constexpr int kTries = 200;
    double sigma = 0, amount = 0;
    for (int i = 0; i < kTries; ++i) {
        const auto fit =
            fit_gun(pass_films(round_gun(7), 0.2, 1, 0.6, 40, 100 + static_cast<std::uint64_t>(i)),
                    Pattern::round, ShotKind::pass);
        REQUIRE(fit);
        const double s = (fit->sigma_mm.value - 7) / fit->sigma_mm.error;
        const double a = (fit->amount.value - 0.2) / fit->amount.error;
        sigma += s * s;
        amount += a * a;
    }
    // The mean square of kTries standard normals is within 1 +- 0.4 but once in ten thousand.
    CHECK_THAT(sigma / kTries, WithinAbs(1.0, 0.4));
    CHECK_THAT(amount / kTries, WithinAbs(1.0, 0.4));
}

TEST_CASE("errors rise where the film does not fit the gun", "[spray][fit]") {
    auto films = pass_films(round_gun(7), 0.2, 0, 0, 40);
    const auto clean = fit_gun(films, Pattern::round, ShotKind::pass);
    for (FilmReading& film : films) film.wet_um += 0.5 * std::sin(film.across_mm);
    const auto wavy = fit_gun(films, Pattern::round, ShotKind::pass);
    REQUIRE(clean);
    REQUIRE(wavy);
    CHECK(clean->error_scale == 1);
    CHECK(wavy->error_scale > 20);
    CHECK(wavy->sigma_mm.error > 20 * clean->sigma_mm.error);
}

TEST_CASE("a Gaussian fitted with a fan is clamped at the maximum taper and flagged", "[spray][fit]") {
    const auto fit = fit_gun(pass_films(round_gun(7), 0.2, 0, 0, 60), Pattern::fan, ShotKind::pass);
    REQUIRE(fit);
    CHECK(fit->taper_at_limit);
    CHECK_THAT(fit->beta_across.value, WithinRel(kMaxTaper, 1e-6));
}

TEST_CASE("without film, or with too few readings, there is no fit", "[spray][fit]") {
    CHECK_FALSE(fit_gun({}, Pattern::round, ShotKind::pass));
    std::vector<FilmReading> bare(50);
    for (std::size_t i = 0; i < bare.size(); ++i) bare[i].across_mm = static_cast<double>(i);
    CHECK_FALSE(fit_gun(bare, Pattern::round, ShotKind::pass));
    CHECK_FALSE(fit_gun(pass_films(round_gun(7), 0.2, 0, 0, 40), Pattern::fan, ShotKind::spot));
    std::vector<FilmReading> few(pass_films(round_gun(7), 0.2, 0, 0, 40));
    few.resize(4);
    CHECK_FALSE(fit_gun(few, Pattern::round, ShotKind::pass));
}

TEST_CASE("the fitted film is that of its footprint", "[spray][fit]") {
    const auto fit = fit_gun(pass_films(fan_gun(100, 25, 2, 2), 0.5, 4, 0, 80), Pattern::fan, ShotKind::pass);
    REQUIRE(fit);
    const Footprint footprint = footprint_of(*fit);
    for (const double x : {-60.0, -20.0, 0.0, 4.0, 33.0})
        CHECK_THAT(wet_um(*fit, footprint, x, 17),
                   WithinAbs(500 * pass_profile(footprint_of(fan_gun(100, 25, 2, 2)), x - 4), 1e-3));
}
