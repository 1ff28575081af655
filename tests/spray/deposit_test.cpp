#include "fadewright/spray/deposit.h"

#include "fadewright/spray/gun.h"
#include "some_guns.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::geometry;
using test::at;
using test::deposit;

namespace {

constexpr double kVolume = 1e-6;  // stated accuracy of the deposit

std::vector<Gun> guns() {
    return {test::round_gun(9), test::fan_gun(120, 50, 2, 2), test::fan_gun(100, 60, 2.5, 3.2)};
}

Pass feathered() {
    Pass pass = test::straight(at(-60, 20), at(90, -10), 120);
    pass.feather_on = Millimetres{70};
    pass.feather_off = Millimetres{30};
    pass.overrun = Millimetres{12};
    return pass;
}

Pass bent() {
    Pass pass = test::straight(at(-70, -40), at(0, 0), 200);
    pass.points = {at(-70, -40), at(10, -35), at(60, 20), at(-20, 45)};
    pass.feather_off = Millimetres{60};
    pass.repeats = 2;
    return pass;
}

Pass spot() {
    Pass pass;
    pass.points = {at(15, -8)};
    pass.dwell = Seconds{0.8};
    pass.distance = Millimetres{190};
    return pass;
}

std::vector<Pass> all_passes() {
    return {test::straight(at(-80, 0), at(80, 0)), test::straight(at(0, 70), at(0, -70), 90), feathered(),
            bent(), spot()};
}

double sample(const Deposit& d, int i) {
    return d.wet_um(-140.0 + 13.7 * (i % 21), -120.0 + 11.3 * (i / 21));
}

}  // namespace

TEST_CASE("the film on an infinite plane is the sprayed paint times transfer efficiency", "[spray][volume]") {
    for (const Gun& gun : guns())
        for (const Pass& pass : all_passes()) {
            const Deposit d = deposit(gun, {pass});
            CAPTURE(static_cast<int>(gun.pattern), gun.beta_across, pass.points.size());
            const Share transfer = transfer_efficiency_at(gun, pass.distance.value_or(gun.distance));
            CHECK(d.landed_on_infinite_plane().value == Approx(transfer.value * d.sprayed_volume().value));
            CHECK(test::paint_mL(d, -230, -230, 230, 230, 0.5) ==
                  Approx(d.landed_on_infinite_plane().value).epsilon(kVolume));
        }
}

TEST_CASE("without feathers flow times trigger time leaves the gun", "[spray][volume]") {
    const Gun gun = test::fan_gun(120, 50, 2, 2);  // 90 mL/min
    Pass pass = test::straight(at(0, 0), at(300, 400), 250);
    pass.repeats = 3;
    const Deposit d = deposit(gun, {pass, spot()});
    CHECK(d.trigger_time().value == Approx(3 * 2.0 + 0.8));
    CHECK(d.sprayed_volume().value == Approx(90.0 / 60 * 6.8));
    CHECK(d.landed_on_infinite_plane().value ==
          Approx(1.5 * (6.0 * 0.7 + 0.8 * transfer_efficiency_at(gun, Millimetres{190}).value)));
    CHECK(d.passes() == 4);
}

TEST_CASE("the middle of a long pass is the closed form of an infinite one", "[spray]") {
    // 1 mL/s landing, 400 mm/s, sigma 40 mm: the check value of gaussian_pass.csv.
    Gun gun = test::round_gun(40);
    gun.flow = MillilitresPerMinute{60};
    gun.transfer_efficiency = Share{1};
    const Deposit d = deposit(gun, {test::straight(at(-1000, 0), at(1000, 0), 400)});
    CHECK(d.wet_um(0, 0) == Approx(24.9338925).margin(5e-8).epsilon(0));
    CHECK(d.wet_um(100, 40) == Approx(15.1231703).margin(5e-8).epsilon(0));
}

TEST_CASE("a row has the same film as its points one by one", "[spray]") {
    std::vector<double> x;
    for (int i = 0; i < 300; ++i) x.push_back(-180 + 1.2 * i + 0.3 * (i % 3));
    for (const Gun& gun : guns()) {
        const Deposit d = deposit(gun, all_passes());
        for (const double y : {-200.0, -70.0, -8.0, 0.0, 3.3, 61.0}) {
            std::vector<double> row(x.size(), 5.0);
            d.add_wet_um(x, y, row);
            for (std::size_t i = 0; i < x.size(); ++i)
                CHECK(row[i] == Approx(5 + d.wet_um(x[i], y)).margin(1e-11).epsilon(0));
        }
    }
    const Deposit d = deposit(guns()[0], all_passes());
    d.add_wet_um({}, 0, {});
}

TEST_CASE("a mirrored pass gives a mirrored film", "[spray][property]") {
    for (const Gun& gun : guns())
        for (const Pass& pass : all_passes()) {
            Pass mirrored = pass;
            for (Point& p : mirrored.points) p.x = -p.x;
            const Deposit a = deposit(gun, {pass});
            const Deposit b = deposit(gun, {mirrored});
            for (double y = -90; y <= 90; y += 22.5)
                for (double x = -130; x <= 130; x += 13)
                    CHECK(b.wet_um(-x, y) == Approx(a.wet_um(x, y)).margin(1e-10));
        }
}

TEST_CASE("a rotated pass gives a rotated film", "[spray][property]") {
    const double c = std::cos(0.7), s = std::sin(0.7);
    for (const Gun& gun : guns())
        for (const Pass& pass : {feathered(), bent()}) {
            Pass rotated = pass;
            for (Point& p : rotated.points)
                p = at(c * p.x.value - s * p.y.value, s * p.x.value + c * p.y.value);
            const Deposit a = deposit(gun, {pass});
            const Deposit b = deposit(gun, {rotated});
            for (double y = -90; y <= 90; y += 22.5)
                for (double x = -130; x <= 130; x += 13)
                    CHECK(b.wet_um(c * x - s * y, s * x + c * y) == Approx(a.wet_um(x, y)).margin(1e-8));
        }
}

TEST_CASE("the order of passes does not matter", "[spray][property]") {
    for (const Gun& gun : guns()) {
        std::vector<Pass> passes = all_passes();
        const Deposit a = deposit(gun, passes);
        std::reverse(passes.begin(), passes.end());
        const Deposit b = deposit(gun, passes);
        for (int i = 0; i < 441; ++i) CHECK(sample(b, i) == Approx(sample(a, i)).epsilon(1e-12));
        CHECK(b.sprayed_volume().value == Approx(a.sprayed_volume().value));
    }
}

TEST_CASE("film is proportional to flow, to repeats and to the inverse of speed", "[spray][property]") {
    for (const Gun& gun : guns()) {
        std::vector<Pass> passes{feathered(), bent()};
        const Deposit once = deposit(gun, passes);
        Gun more = gun;
        more.flow = 1.7 * gun.flow;
        const Deposit flow = deposit(more, passes);
        for (Pass& p : passes) p.repeats *= 3;
        const Deposit repeated = deposit(gun, passes);
        for (Pass& p : passes) p.speed = 2.5 * p.speed;
        const Deposit faster = deposit(gun, passes);
        for (int i = 0; i < 441; ++i) {
            CHECK(sample(flow, i) == Approx(1.7 * sample(once, i)).epsilon(1e-12));
            CHECK(sample(repeated, i) == Approx(3 * sample(once, i)).epsilon(1e-12));
            CHECK(sample(faster, i) == Approx(1.2 * sample(once, i)).epsilon(1e-12));
        }
    }
}

TEST_CASE("at twice the distance the landed film is twice as wide and half as thick", "[spray][property]") {
    for (const Gun& gun : guns()) {
        Pass near = test::straight(at(-400, 0), at(400, 0));
        Pass far = near;
        far.distance = Millimetres{2 * gun.distance.value};
        const Deposit a = deposit(gun, {near});
        const Deposit b = deposit(gun, {far});
        const double level_films =
            transfer_efficiency_at(gun, *far.distance).value / gun.transfer_efficiency.value;
        CHECK(level_films < 1);
        for (const double y : {0.0, 7.0, 20.0})
            CHECK(b.wet_um(0, 2 * y) == Approx(level_films * a.wet_um(0, y) / 2).epsilon(1e-12));
        CHECK(b.landed_on_infinite_plane().value == Approx(level_films * a.landed_on_infinite_plane().value));
    }
}

TEST_CASE("a path of many straight segments gives the same film as one segment", "[spray]") {
    for (const Gun& gun : guns()) {
        Pass feathered_pass = test::straight(at(-90, -30), at(90, 60));
        feathered_pass.feather_on = Millimetres{80};
        Pass many = feathered_pass;
        many.points.clear();
        for (int i = 0; i <= 36; ++i) many.points.push_back(at(-90 + 5.0 * i, -30 + 2.5 * i));
        const Deposit a = deposit(gun, {feathered_pass});
        const Deposit b = deposit(gun, {many});
        for (int i = 0; i < 441; ++i) CHECK(sample(b, i) == Approx(sample(a, i)).margin(1e-10));
    }
}

TEST_CASE("a fan is held across its travel", "[spray]") {
    const Gun gun = test::fan_gun(200, 40, 2, 2);
    const Deposit level = deposit(gun, {test::straight(at(-50, 0), at(50, 0))});
    CHECK(level.wet_um(0, 90) > 0);
    CHECK(level.wet_um(90, 0) == 0);
    const Deposit upright = deposit(gun, {test::straight(at(0, -50), at(0, 50))});
    CHECK(upright.wet_um(90, 0) > 0);
    CHECK(upright.wet_um(0, 90) == 0);
    Pass still;
    still.points = {at(0, 0), at(0, 0)};
    still.dwell = Seconds{1};
    const Deposit spot_pass = deposit(gun, {still});
    CHECK(spot_pass.wet_um(0, 90) > 0);  // like a horizontal pass
    CHECK(spot_pass.wet_um(90, 0) == 0);
}
