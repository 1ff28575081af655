#include "fadewright/spray/gun.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using namespace fadewright::spray;

TEST_CASE("a droplet that spreads further leaves a thinner splat", "[spray][published]") {
    // Droplets of 30 um; values computed from the volume of a sphere and printed to one place.
    Gun gun;
    gun.droplet = Micrometres{30};
    const double spreads[] = {1.5, 2.0, 2.5, 3.0};
    const double films_um[] = {8.9, 5.0, 3.2, 2.2};
    for (int i = 0; i < 4; ++i) {
        gun.splat_spread = spreads[i];
        CHECK(wet_splat(gun).value == Approx(films_um[i]).margin(0.05));
    }
}

TEST_CASE("a splat holds the volume of its droplet", "[spray]") {
    Gun gun;
    gun.droplet = Micrometres{24};
    gun.splat_spread = 1.7;
    const double d = 24, D = 1.7 * 24;
    CHECK(wet_splat(gun).value * D * D / 4 == Approx(d * d * d / 6).epsilon(1e-14));  // both over pi
}
