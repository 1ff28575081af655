#include "fadewright/film/wet_flakes.h"

#include "some_flakes.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace fadewright;
using namespace fadewright::film;

namespace {

constexpr double pi = std::numbers::pi;

// Drag of an oblate spheroid over that of a sphere of its radius, its axis `lambda` times its width:
// Source: [oberbeck1876], as in [happel1965].
double spheroid_broadside(double lambda) {
    const double l2 = lambda * lambda, e2 = 1 - l2;
    return 8.0 / 3 /
           (2 * lambda / e2 + 2 * (1 - 2 * l2) / std::pow(e2, 1.5) * std::atan(std::sqrt(e2) / lambda));
}
double spheroid_edge_on(double lambda) {
    const double l2 = lambda * lambda, e2 = 1 - l2;
    return 8.0 / 3 / (-lambda / e2 - (2 * l2 - 3) / std::pow(e2, 1.5) * std::asin(std::sqrt(e2)));
}

paint::EffectPigment disc(double size_um, double thickness_um, double density) {
    paint::EffectPigment flakes;
    flakes.platelet_hits_per_um = 0.1;
    flakes.size = Micrometres{size_um};
    flakes.thickness = Micrometres{thickness_um};
    flakes.density = GramsPerMillilitre{density};
    return flakes;
}

}  // namespace

// A disc drags 0.85 and 0.57 times as much as a sphere of its radius. Source: [happel1965].
TEST_CASE("the drag of a disc is that of the handbook, and of the thinnest spheroids", "[film][settling]") {
    const double sphere = 6 * pi;
    CHECK(kDragBroadside / sphere == Approx(0.85).margin(0.005));
    CHECK(kDragEdgeOn / sphere == Approx(0.57).margin(0.005));
    CHECK(kDragBroadside / sphere == Approx(spheroid_broadside(1e-6)).epsilon(1e-5));
    CHECK(kDragEdgeOn / sphere == Approx(spheroid_edge_on(1e-6)).epsilon(1e-5));
    CHECK(kDragBroadside / sphere == Approx(spheroid_broadside(1.0 / 40)).epsilon(0.03));
    CHECK(kDragEdgeOn / sphere == Approx(spheroid_edge_on(1.0 / 40)).epsilon(0.03));
}

TEST_CASE("the weight of a sinking disc equals its drag", "[film][settling]") {
    const double d = 22e-6, h = 0.6e-6, heavier = 1900, mu = 0.06;  // metres, kg/m3, Pa s
    const SettlingVelocity sunk_depth = settling_velocity(disc(22, 0.6, 2.9), GramsPerMillilitre{1.0}, 60);
    const double weight = pi / 4 * d * d * h * heavier * 9.80665;
    CHECK(16 * mu * d / 2 * sunk_depth.broadside_um_per_s * 1e-6 == Approx(weight).epsilon(1e-12));
    CHECK(32.0 / 3 * mu * d / 2 * sunk_depth.edge_on_um_per_s * 1e-6 == Approx(weight).epsilon(1e-12));
    CHECK(sunk_depth.mean_um_per_s() > sunk_depth.broadside_um_per_s);
    CHECK(sunk_depth.mean_um_per_s() < sunk_depth.edge_on_um_per_s);
}

TEST_CASE("coarse, dense flakes in thin paint need stirring soonest", "[film][settling]") {
    const auto wait = [](const paint::EffectPigment& flakes, double liquid, double viscosity) {
        return stir_interval({&flakes, 1}, GramsPerMillilitre{liquid}, viscosity).value;
    };
    const paint::EffectPigment pearl = disc(20, 0.6, 3.0), coarse = disc(60, 1, 2.7);
    CHECK(wait(coarse, 1, 50) < wait(pearl, 1, 50));
    CHECK(wait(pearl, 1, 25) == Approx(wait(pearl, 1, 50) / 2));
    CHECK(std::isinf(wait(disc(20, 0.5, 1.0), 1, 50)));
    CHECK(std::isinf(wait(disc(20, 0.5, 0.8), 1, 50)));  // they rise
    CHECK(std::isinf(stir_interval({}, GramsPerMillilitre{1}, 50).value));
    const std::vector<paint::EffectPigment> both{pearl, coarse};
    CHECK(stir_interval(both, GramsPerMillilitre{1}, 50).value == wait(coarse, 1, 50));
    // Twice the depth, twice the time.
    CHECK(stir_interval(both, GramsPerMillilitre{1}, 50, Millimetres{100}).value ==
          Approx(2 * stir_interval(both, GramsPerMillilitre{1}, 50, Millimetres{50}).value));
}
