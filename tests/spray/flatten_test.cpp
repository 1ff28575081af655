#include "fadewright/spray/flatten.h"
#include "fadewright/spray/gun.h"
#include "some_guns.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using namespace fadewright::spray;
using test::at;

namespace {

double seconds(const Gun& gun, const Pass& pass) {
    FlattenedPasses pieces;
    return flatten_pass(gun, pass, pieces).trigger.value;
}

}  // namespace

TEST_CASE("uniform acceleration takes twice as long over the run-up", "[spray]") {
    const Gun gun = test::round_gun(10);
    Pass pass = test::straight(at(0, 0), at(500, 0), 250);
    CHECK(seconds(gun, pass) == Approx(2.0));
    pass.run_up = Millimetres{100};  // v^2 = 2 a s: 100 mm in 0.8 s instead of 0.4 s
    CHECK(seconds(gun, pass) == Approx(2.4));
    pass.run_down = Millimetres{50};
    CHECK(seconds(gun, pass) == Approx(2.6));
}

TEST_CASE("film at a slow end is inversely proportional to the speed", "[spray]") {
    const Gun gun = test::round_gun(4);
    Pass even = test::straight(at(0, 0), at(600, 0), 250);
    Pass slow = even;
    slow.run_up = Millimetres{300};
    const Deposit a = test::deposit(gun, {even}), b = test::deposit(gun, {slow});
    for (const double x : {60.0, 120.0, 200.0})  // speed falls as the root of the path length
        CHECK(b.wet_um(x, 0) / a.wet_um(x, 0) == Approx(std::sqrt(300 / x)).epsilon(0.01));
    CHECK(b.wet_um(450, 0) == Approx(a.wet_um(450, 0)));
}

TEST_CASE("a speed linear in path length takes logarithmic time", "[spray]") {
    const Gun gun = test::round_gun(5);
    Pass pass = test::straight(at(0, 0), at(400, 0));
    pass.speeds = {MillimetresPerSecond{100}, MillimetresPerSecond{400}};
    CHECK(seconds(gun, pass) == Approx(400 * std::log(4.0) / 300).epsilon(1e-9));
    const Deposit d = test::deposit(gun, {pass});
    // Film is proportional to 1/v: at a quarter of the path 175 mm/s, at three quarters 325 mm/s.
    CHECK(d.wet_um(100, 0) / d.wet_um(300, 0) == Approx(325.0 / 175).epsilon(2e-3));
}

TEST_CASE("a distance that changes along the pass widens it and conserves the paint", "[spray][volume]") {
    const Gun gun = test::round_gun(12);  // at 150 mm
    Pass pass = test::straight(at(-200, 0), at(200, 0));
    pass.distances = {Millimetres{100}, Millimetres{200}};
    const Deposit d = test::deposit(gun, {pass});
    CHECK(test::paint_mL(d, -340, -140, 340, 140, 1.0) ==
          Approx(d.landed_on_infinite_plane().value).epsilon(1e-5));
    Pass middle = test::straight(at(-200, 0), at(200, 0));
    const Deposit even = test::deposit(gun, {middle});
    CHECK(d.wet_um(0, 0) == Approx(even.wet_um(0, 0)).epsilon(0.01));
    CHECK(d.wet_um(-100, 0) > 1.15 * even.wet_um(-100, 0));
    CHECK(d.wet_um(100, 0) < 0.88 * even.wet_um(100, 0));
    CHECK(d.wet_um(100, 30) / d.wet_um(100, 0) > 2 * d.wet_um(-100, 30) / d.wet_um(-100, 0));
}

TEST_CASE("a pass of given distances agrees with one ten times finer", "[spray]") {
    const Gun gun = test::fan_gun(120, 50, 2, 2.5);
    Pass coarse = test::straight(at(-200, 0), at(200, 0));
    coarse.distances = {Millimetres{110}, Millimetres{220}};
    Pass fine = coarse;
    fine.points.clear();
    fine.distances.clear();
    for (int i = 0; i <= 700; ++i) {
        fine.points.push_back(at(-200 + 400.0 * i / 700, 0));
        fine.distances.push_back(Millimetres{110 + 110.0 * i / 700});
    }
    const Deposit a = test::deposit(gun, {coarse}), b = test::deposit(gun, {fine});
    double peak = 0, worst = 0;
    for (double x = -260; x <= 260; x += 6.3)
        for (double y = -90; y <= 90; y += 7.7) {
            peak = std::max(peak, b.wet_um(x, y));
            worst = std::max(worst, std::abs(a.wet_um(x, y) - b.wet_um(x, y)));
        }
    CHECK(worst < 1e-3 * peak);
}

TEST_CASE("a gun that arcs about the elbow leaves less at the ends, and more of it outside", "[spray]") {
    const Gun gun = test::round_gun(12);
    Pass straight_pass = test::straight(at(-250, 0), at(250, 0));
    Pass arced = straight_pass;
    arced.arc_radius = Millimetres{450};
    const Deposit a = test::deposit(gun, {straight_pass}), b = test::deposit(gun, {arced});
    CHECK(b.wet_um(0, 0) == Approx(a.wet_um(0, 0)).epsilon(0.01));
    CHECK(b.wet_um(220, 0) < 0.8 * a.wet_um(220, 0));
    CHECK(b.wet_um(280, 0) > a.wet_um(280, 0));
    CHECK(b.wet_um(-200, 9) == Approx(b.wet_um(200, 9)).epsilon(1e-9));  // the same both ways
    CHECK(test::paint_mL(b, -700, -300, 700, 300, 1.5) ==
          Approx(b.landed_on_infinite_plane().value).epsilon(3e-4));
}

TEST_CASE("the trigger opens and closes at trigger_on and trigger_off", "[spray]") {
    const Gun gun = test::round_gun(6);
    Pass pass = test::straight(at(0, 0), at(400, 0), 200);
    pass.overrun = Millimetres{50};
    CHECK(seconds(gun, pass) == Approx(500.0 / 200));
    pass.trigger_on = Millimetres{100};
    pass.trigger_off = Millimetres{-150};
    CHECK(seconds(gun, pass) == Approx(150.0 / 200));
    const Deposit d = test::deposit(gun, {pass});
    CHECK(d.wet_um(100, 0) == Approx(d.wet_um(175, 0) / 2));
    CHECK(d.wet_um(250, 0) == Approx(d.wet_um(175, 0) / 2));
    CHECK(d.wet_um(20, 0) < 1e-6);
    pass.trigger_on = Millimetres{-30};
    pass.trigger_off = Millimetres{20};
    CHECK(seconds(gun, pass) == Approx(450.0 / 200));
}

TEST_CASE("needle opening, air and distance change a gun as stated", "[spray]") {
    Gun gun = test::round_gun(12);
    gun.air = Bar{0.7};
    gun.nozzle = Millimetres{0.8};
    const Gun same = with_settings(gun, {});
    CHECK(same == gun);
    const Gun half = with_settings(gun, {Share{0.5}, std::nullopt});
    CHECK(half.flow.value == Approx(0.75 * gun.flow.value));  // 1 - (1/2)^2 of a cone in a hole
    CHECK(half.droplet < gun.droplet);                        // less liquid for the same air
    const Gun hard = with_settings(gun, {std::nullopt, Bar{1.4}});
    CHECK(hard.ring.value == Approx(2.0 / 3));  // flat-topped at twice the stated pressure
    CHECK(hard.sigma > gun.sigma);
    CHECK(hard.droplet < gun.droplet);
    CHECK(hard.transfer_efficiency < gun.transfer_efficiency);
    const Gun soft = with_settings(gun, {std::nullopt, Bar{0.4}});
    CHECK(soft.droplet > gun.droplet);
    CHECK(soft.ring.value == 0);
    CHECK(transfer_efficiency_at(gun, Millimetres{150}) == gun.transfer_efficiency);
    CHECK(transfer_efficiency_at(gun, Millimetres{300}) < gun.transfer_efficiency);
    CHECK(transfer_efficiency_at(gun, Millimetres{100}) > gun.transfer_efficiency);
}
