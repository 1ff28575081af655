// A worked example of the spray-path literature, end to end: footprint, segment, sweep, film.

#include "some_guns.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace fadewright;
using namespace fadewright::spray;

namespace {

// The spot grows by (R^2 - r^2) / 10 micrometres per second, R = 50 mm: a circular beta footprint of taper 2.
constexpr double kRadius_mm = 50;
constexpr double kTarget_um = 50;

Gun parabolic_gun() {
    Gun gun = test::fan_gun(2 * kRadius_mm, 2 * kRadius_mm, 2, 2);
    const double mm3_s = std::numbers::pi * std::pow(kRadius_mm, 4) / 20 / 1000;  // the spot's volume
    gun.flow = MillilitresPerMinute{mm3_s * 60 / 1000};
    gun.transfer_efficiency = Share{1};
    return gun;
}

struct Film {
    double mean, lowest, highest, squares;
};

// The film over one spacing in the middle of a wide sweep.
Film film_of(double overlap_mm, double speed_mm_s) {
    const Gun gun = parabolic_gun();
    Sweep sweep;
    sweep.from = test::at(-150, 0);
    sweep.to = test::at(150, 500);
    sweep.overlap = Share{overlap_mm / (2 * kRadius_mm)};
    sweep.speed = MillimetresPerSecond{speed_mm_s};
    const Deposit d(gun, sweep_passes(sweep, gun));
    const double step = pass_spacing(sweep, gun).value;
    constexpr int places = 2000;
    Film film{0, 1e9, 0, 0};
    for (int i = 0; i < places; ++i) {
        const double um = d.wet_um(0, 3 * step + step * (i + 0.5) / places);
        film.mean += um / places;
        film.squares += um * um / places;
        film.lowest = std::min(film.lowest, um);
        film.highest = std::max(film.highest, um);
    }
    return film;
}

// Least squares: for a given overlap the film is inverse in speed, so the best speed is known.
double best_speed(double overlap_mm) {
    const Film at_1 = film_of(overlap_mm, 1);
    return at_1.squares / (kTarget_um * at_1.mean);
}

double misfit(double overlap_mm) {
    const Film film = film_of(overlap_mm, best_speed(overlap_mm));
    return film.squares - 2 * kTarget_um * film.mean + kTarget_um * kTarget_um;
}

}  // namespace

TEST_CASE("a still gun sprays the parabolic spot", "[spray]") {
    Pass still;
    still.points = {test::at(0, 0)};
    still.dwell = Seconds{1};
    const Deposit d(parabolic_gun(), std::vector<Pass>{still});
    for (const double r : {0.0, 10.0, 31.0, 49.0})
        CHECK(d.wet_um(r * 0.6, r * 0.8) == Approx((kRadius_mm * kRadius_mm - r * r) / 10));
}

TEST_CASE("least squares over a parabolic sweep finds the overlap and speed of the worked example",
          "[spray][published]") {
    // The example is of [chen2008] (overlap 39.2 mm, 323.3 mm/s). The optimum
    // was computed separately from the profile's Fourier transform; a coarser search elsewhere gave 39.196 mm
    // and 323.16 mm/s with the same film.
    double low = 35, high = 44;
    for (int i = 0; i < 40; ++i) {
        const double a = low + (high - low) / 3;
        const double b = high - (high - low) / 3;
        (misfit(a) < misfit(b) ? high : low) = misfit(a) < misfit(b) ? b : a;
    }
    const double overlap_mm = (low + high) / 2;
    const double speed = best_speed(overlap_mm);
    CHECK(overlap_mm == Approx(39.19396).margin(1e-4).epsilon(0));
    CHECK(speed == Approx(323.1411).margin(1e-3).epsilon(0));
    const Film film = film_of(overlap_mm, speed);
    CHECK(film.mean == Approx(49.96444).margin(1e-5).epsilon(0));
    CHECK(film.lowest == Approx(47.70).margin(0.005).epsilon(0));
    CHECK(film.highest == Approx(51.61).margin(0.005).epsilon(0));
}

TEST_CASE("the worked example's overlap and speed give the film computed for them", "[spray][published]") {
    const Film film = film_of(39.2, 323.3);
    CHECK(film.mean == Approx(49.9448).margin(5e-5).epsilon(0));
    CHECK(film.lowest == Approx(47.684).margin(5e-4).epsilon(0));
    CHECK(film.highest == Approx(51.598).margin(5e-4).epsilon(0));
    const double deviation = std::sqrt(film.squares - film.mean * film.mean);
    CHECK(100 * deviation / film.mean == Approx(2.668).margin(5e-4).epsilon(0));
    // A single pass, at its centre.
    const Deposit deposit(parabolic_gun(),
                          std::vector<Pass>{test::straight(test::at(-150, 0), test::at(150, 0), 323.3)});
    CHECK(deposit.wet_um(0, 0) == Approx(51.5517).margin(5e-5).epsilon(0));
}
