#include "fadewright/spray/puff.h"
#include "published_table.h"
#include "some_guns.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using namespace fadewright::spray;
using test::at;

namespace {

Gun reference_gun() {
    Gun gun = test::round_gun(25);
    gun.distance = Millimetres{200};
    return gun;
}

Pass heeled_pass(double heel, double lead = 0) {
    Pass pass = test::straight(at(-600, 0), at(600, 0));
    pass.heel_angle = Degrees{heel};
    pass.lead_angle = Degrees{lead};
    return pass;
}

Pass spot(double heel, double lead) {
    Pass pass;
    pass.points = {at(0, 0)};
    pass.dwell = Seconds{1};
    pass.heel_angle = Degrees{heel};
    pass.lead_angle = Degrees{lead};
    return pass;
}

// Of film along a line across the travel: the maximum, its position, and the half widths about zero.
struct Hump {
    double peak = 0, at = 0, left = 0, right = 0;
};

Hump hump_of(const Deposit& d) {
    Hump h;
    for (double y = -60; y <= 60; y += 0.02)
        if (d.wet_um(0, y) > h.peak) h = {d.wet_um(0, y), y, 0, 0};
    for (double y = h.at; y < 200; y += 0.02)
        if (d.wet_um(0, y) >= h.peak / 2) h.left = y;
    for (double y = h.at; y > -200; y -= 0.02)
        if (d.wet_um(0, y) >= h.peak / 2) h.right = -y;
    return h;
}

}  // namespace

TEST_CASE("spot and pass of a heeled gun agree with rays on a tilted plane", "[spray][published]") {
    const Gun gun = reference_gun();
    const Hump square_spot = hump_of(test::deposit(gun, {spot(0, 0)}));
    const Hump square_pass = hump_of(test::deposit(gun, {heeled_pass(0)}));
    for (const test::Row& row : test::published_rows("tilted_footprint.csv")) {
        const double heel = row.number("tilt_deg");
        CAPTURE(heel);
        const Hump spot_hump = hump_of(test::deposit(gun, {spot(heel, 0)}));
        CHECK(spot_hump.peak / square_spot.peak == Approx(row.number("peak")).margin(0.0001));
        CHECK(-spot_hump.at == Approx(row.number("shift_mm")).margin(0.03));
        const Hump moving = hump_of(test::deposit(gun, {heeled_pass(heel)}));
        CHECK(moving.peak / square_pass.peak == Approx(row.number("pass")).margin(0.0001));
        CHECK(moving.left == Approx(row.number("far_mm")).margin(0.03));
        CHECK(moving.right == Approx(row.number("near_mm")).margin(0.03));
    }
}

TEST_CASE("heel and lead angles conserve the paint", "[spray][volume]") {
    for (const Gun& gun : {reference_gun(), test::fan_gun(120, 50, 2, 2.5)})
        for (const double angle : {15.0, 30.0, 40.0}) {
            CAPTURE(static_cast<int>(gun.pattern), angle);
            for (const Pass& pass : {spot(angle, 0), spot(0, angle), spot(-angle, angle / 2)}) {
                const Deposit d = test::deposit(gun, {pass});
                CHECK(test::paint_mL(d, -700, -700, 700, 700, 1.0) ==
                      Approx(d.landed_on_infinite_plane().value).epsilon(2e-4));
            }
            Pass moving = test::straight(at(-100, 0), at(100, 0));
            moving.heel_angle = Degrees{angle};
            const Deposit closed = test::deposit(gun, {moving});
            CHECK(test::paint_mL(closed, -900, -900, 900, 900, 1.0) ==
                  Approx(closed.landed_on_infinite_plane().value).epsilon(2e-4));
        }
}

TEST_CASE("a heeled segment in closed form gives the film of its puffs", "[spray][property]") {
    for (Gun gun : {reference_gun(), test::fan_gun(120, 50, 2, 2.5), test::fan_gun(140, 40, 3, 3)}) {
        Pass pass = test::straight(at(-120, 30), at(140, -20));
        pass.heel_angle = Degrees{25};
        pass.feather_on = Millimetres{60};
        FlattenedPasses pieces;
        flatten_pass(gun, pass, pieces);
        const Footprint f = footprint_of(gun);
        std::vector<Puff> puffs;
        for (const PassSegment& s : pieces.segments) add_puffs(s, f, gun.distance.value, puffs);
        const Deposit closed = test::deposit(gun, {pass});
        double peak = 0, worst = 0;
        for (double y = -150; y <= 150; y += 7.3)
            for (double x = -260; x <= 260; x += 9.1) {
                double sum = 0;
                for (const Puff& p : puffs)
                    sum += std::visit(
                        [&](const auto& g) {
                            return wet_um(g, p, gun.distance.value, x, y, SurfaceSample{});
                        },
                        f);
                peak = std::max(peak, sum);
                worst = std::max(worst, std::abs(sum - closed.wet_um(x, y)));
            }
        CAPTURE(static_cast<int>(gun.pattern), peak);
        CHECK(worst < 1e-3 * peak);
    }
}

TEST_CASE("a gun heeled to the left of its travel is the mirror image of one heeled to the right",
          "[spray][property]") {
    const Gun gun = test::fan_gun(120, 50, 2, 2.5);
    const Deposit left = test::deposit(gun, {heeled_pass(30)});
    const Deposit right = test::deposit(gun, {heeled_pass(-30)});
    for (double y = -130; y <= 130; y += 6.5)
        CHECK(left.wet_um(12, y) == Approx(right.wet_um(12, -y)).margin(1e-12));
    CHECK(left.wet_um(0, 80) > 1.5 * left.wet_um(0, -80));  // it sprays to the left
}

TEST_CASE("a lead angle is its negative on the return pass", "[spray][property]") {
    const Gun gun = reference_gun();
    Pass out = test::straight(at(-100, 0), at(100, 0));
    out.lead_angle = Degrees{20};
    Pass back = test::straight(at(100, 0), at(-100, 0));
    back.lead_angle = Degrees{-20};
    const Deposit a = test::deposit(gun, {out}), b = test::deposit(gun, {back});
    for (double x = -150; x <= 150; x += 11) CHECK(a.wet_um(x, 8) == Approx(b.wet_um(x, 8)).margin(1e-6));
}
