#include "fadewright/spray/film_grid.h"

#include "fadewright/base/parallel.h"
#include "some_guns.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace fadewright;
using namespace fadewright::spray;
using test::at;

namespace {

std::vector<Pass> passes() {
    Pass ended = test::straight(at(30, 40), at(150, 60));  // begins and ends on the panel, trigger open
    Pass heeled = test::straight(at(-50, 150), at(260, 100));
    heeled.heel_angle = Degrees{25};
    Pass curved = test::straight(at(0, 0), at(200, 200));
    curved.points = {at(0, 200), at(60, 90), at(120, 110), at(220, 20)};
    curved.smooth = true;
    Pass spot;
    spot.points = {at(160, 150)};
    spot.dwell = Seconds{0.4};
    return {ended, heeled, curved, spot, test::straight(at(-50, 20), at(260, 20))};
}

std::vector<Gun> guns() {
    Gun ring = test::round_gun(9);
    ring.ring = Share{0.9};
    return {test::round_gun(11), ring, test::fan_gun(120, 40, 2.5, 2.5), test::fan_gun(90, 30, 1, 1.5)};
}

}  // namespace

TEST_CASE("the fast film of a grid agrees with the reference", "[spray][property]") {
    for (const Gun& gun : guns())
        for (const double step : {0.2, 0.7, 3.0}) {
            const Deposit d(gun, passes());
            const int side = std::min(500, static_cast<int>(220 / step));
            const PointGrid grid{-5, -3, step, side, side - 17};
            const std::vector<double> reference = wet_film_reference(d, grid), fast = wet_film(d, grid);
            const double max_film = *std::max_element(reference.begin(), reference.end());
            double worst = 0;
            for (std::size_t i = 0; i < reference.size(); ++i)
                worst = std::max(worst, std::abs(reference[i] - fast[i]));
            CAPTURE(static_cast<int>(gun.pattern), gun.beta_across, gun.ring.value, step, worst / max_film);
            CHECK(max_film > 0);
            CHECK(worst <= 1e-3 * max_film);
        }
}

TEST_CASE("the fast film does not depend on the number of threads", "[spray]") {
    const Deposit d(test::fan_gun(120, 40, 2.5, 2.5), passes());
    const PointGrid grid{0, 0, 0.6, 300, 280};
    std::vector<std::vector<double>> films;
    for (const int threads : {1, 2, 7}) {
        const ThreadLimit limit(threads);
        films.push_back(wet_film(d, grid));
    }
    CHECK(films[0] == films[1]);
    CHECK(films[0] == films[2]);
}
