// Vectorised puffs against the formula of one puff (puff.h), over flat, bevelled and round surfaces.
#include "fadewright/spray/deposit.h"
#include "fadewright/spray/relief.h"
#include "some_guns.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::geometry;
using test::at;

namespace {

// A bend, a straight and a short pass, with heel and lead: puffs near and far, in and out of order.
std::vector<Pass> some_passes() {
    Pass bend;
    bend.points = {at(-20, 10), at(60, 90), at(140, 30), at(190, 120)};
    bend.smooth = true;
    bend.speed = MillimetresPerSecond{300};
    bend.heel_angle = Degrees{20};
    Pass straight = test::straight(at(-80, 60), at(280, 60), 400);
    straight.repeats = 2;
    straight.lead_angle = Degrees{12};
    Pass back = test::straight(at(150, 140), at(20, -10), 200);
    back.distance = Millimetres{110};
    back.heel_angle = Degrees{-25};
    back.lead_angle = Degrees{5};
    return {bend, straight, back};
}

std::vector<Gun> some_guns() {
    Gun ring = test::round_gun(14);
    ring.ring = Share{0.4};
    Gun measured = test::fan_gun(90, 30, 2, 2.5);
    measured.pattern = Pattern::measured;
    measured.profile = {0, 2, 5, 9, 8, 6, 1, 0};
    std::vector<Gun> guns{test::round_gun(9),
                          ring,
                          test::fan_gun(120, 40, 2.5, 3),
                          test::fan_gun(120, 40, 1, 1.5),
                          test::fan_gun(100, 35, 2.37, 3.1),
                          measured};
    for (Gun& gun : guns) gun.distance = Millimetres{150};
    return guns;
}

double reference_um(const Deposit& deposit, const Relief* relief, double x, double y) {
    const SurfaceSample sample = relief ? relief->at(x, y) : SurfaceSample{};
    double film = 0;
    for (const Puff& puff : deposit.puffs())
        film +=
            std::visit([&](const auto& f) { return wet_um(f, puff, deposit.distance_mm(), x, y, sample); },
                       deposit.footprint());
    return film;
}

void check(const std::shared_ptr<const Relief>& relief) {
    for (const Gun& gun : some_guns()) {
        const std::vector<Pass> passes = some_passes();
        const Deposit deposit(gun, passes, relief);
        REQUIRE(deposit.puffs().size() > 20);
        REQUIRE(deposit.segments().empty());
        double peak = 0, max_error = 0;
        for (double y = -60; y <= 180; y += 7.3)
            for (double x = -140; x <= 340; x += 6.1) {
                const double reference = reference_um(deposit, relief.get(), x, y);
                peak = std::max(peak, reference);
                max_error = std::max(max_error, std::abs(reference - deposit.wet_um(x, y)));
            }
        CAPTURE(static_cast<int>(gun.pattern), gun.beta_across, gun.beta_along, peak);
        CHECK(peak > 1);
        CHECK(max_error < 1e-12 * peak);
    }
}

}  // namespace

TEST_CASE("puffs together give the sum of their films, on a flat panel", "[spray][fast]") {
    // Passes without heel and lead are segments; these are all puffs.
    const std::shared_ptr<const Relief> nearly_flat = std::make_shared<Relief>(
        std::vector<ReliefPart>{Cylinder{{0, 0}, Degrees{0}, Millimetres{1e5}}}, Box{-200, -200, 400, 400});
    check(nearly_flat);
}

TEST_CASE("puffs together give the sum of their films, on a steep cylinder", "[spray][fast]") {
    check(std::make_shared<Relief>(std::vector<ReliefPart>{Cylinder{{60, 60}, Degrees{30}, Millimetres{170}}},
                                   Box{-200, -200, 400, 400}));
}
