#include "fadewright/spray/mask.h"

#include "fadewright/spray/footprint.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::geometry;

namespace {

// A half plane for all practical distances: covered below y = 0.
Mask half_plane(Millimetres gap) {
    return {Outline({{{-1e4, -1e4}, {1e4, -1e4}, {1e4, 0}, {-1e4, 0}}}), Covers::inside, gap};
}

Gun round_gun(double sigma, double distance) {
    Gun gun;
    gun.pattern = Pattern::round;
    gun.sigma = Millimetres{sigma};
    gun.distance = Millimetres{distance};
    return gun;
}

// The distance at which the share reaches a value, by bisection on the open side of the half plane.
double position_of(double share, const Mask& mask, Millimetres softness) {
    double low = -100, high = 100;
    for (int i = 0; i < 80; ++i) {
        const double middle = (low + high) / 2;
        (mask.transmission(0, middle, softness) < share ? low : high) = middle;
    }
    return (low + high) / 2;
}

}  // namespace

TEST_CASE("a mask that lies on the piece has a hard edge", "[spray][mask]") {
    Mask mask{Outline::circle({0, 0}, Millimetres{20}), Covers::inside, Millimetres{0}};
    CHECK(mask.transmission(19.9, 0, Millimetres{0}) == 0);
    CHECK(mask.transmission(20.1, 0, Millimetres{0}) == 1);
    mask.covers = Covers::outside;
    CHECK(mask.transmission(19.9, 0, Millimetres{0}) == 1);
    CHECK(mask.transmission(20.1, 0, Millimetres{0}) == 0);
}

TEST_CASE("transmissions of a mask and of its complement add up to 1", "[spray][mask]") {
    Mask covers{Outline::rectangle(Millimetres{50}, Millimetres{30}, Millimetres{5}), Covers::inside,
                Millimetres{8}};
    Mask leaves = covers;
    leaves.covers = Covers::outside;
    for (const double s : {0.0, 0.7, 4.0})
        for (double x = -20; x < 70; x += 3.1)
            for (double y = -20; y < 50; y += 2.7)
                CHECK(covers.transmission(x, y, Millimetres{s}) + leaves.transmission(x, y, Millimetres{s}) ==
                      Approx(1).epsilon(1e-14));
}

TEST_CASE("a raised edge transmits as much as a hard one, spread over its width", "[spray][mask]") {
    const Mask mask = half_plane(Millimetres{10});
    const Millimetres s = edge_softness(round_gun(12, 150), mask.gap);
    CHECK(s.value == Approx(10 * 12 / 150.0));
    CHECK(edge_softness(round_gun(12, 150), mask.gap, Degrees{30}) == s);  // round: in any direction
    CHECK(mask.transmission(0, 0, s) == Approx(0.5));
    CHECK(position_of(0.9, mask, s) - position_of(0.1, mask, s) ==
          Approx(kTenToNinety * s.value).epsilon(1e-9));
    // Film over a line across the edge, in equal steps: the hard edge's length on the open side.
    constexpr double step = 0.01;
    double sum = 0;
    for (int i = -2000; i < 2000; ++i) sum += step * mask.transmission(3, (i + 0.5) * step, s);
    CHECK(sum == Approx(20).epsilon(1e-9));
}

TEST_CASE("twice the gap makes an edge twice as soft, a narrower gun a harder one", "[spray][mask]") {
    const Gun gun = round_gun(12, 150);
    CHECK(edge_softness(gun, Millimetres{20}) == 2 * edge_softness(gun, Millimetres{10}));
    CHECK(edge_softness(round_gun(6, 150), Millimetres{20}) == edge_softness(gun, Millimetres{10}));
    CHECK(edge_softness(gun, Millimetres{0}).value == 0);
}

TEST_CASE("the softness of an edge under a fan is that of rays from its whole footprint", "[spray][mask]") {
    Gun gun;
    gun.pattern = Pattern::fan;
    gun.fan_width = Millimetres{200};
    gun.fan_thickness = Millimetres{60};
    gun.distance = Millimetres{200};
    gun.beta_across = GENERATE(1.5, 2.0, 3.0);
    gun.beta_along = GENERATE(2.0, 2.5);
    const double a = 100, B = 30, b1 = gun.beta_across, b2 = gun.beta_along;
    const Millimetres gap{20};
    const double along_it = edge_softness(gun, gap, Degrees{0}).value;
    const double over_it = edge_softness(gun, gap, Degrees{90}).value;
    CHECK(along_it == Approx(gap.value / 200 * a / std::sqrt(2 * b1 + 2)));
    CHECK(over_it == Approx(gap.value / 200 * B * std::sqrt((2 * b1 + 1) / ((2 * b1 + 2) * (2 * b2 + 1)))));
    CHECK(edge_softness(gun, gap).value == Approx(std::hypot(along_it, over_it) / std::numbers::sqrt2));
    // The same from the footprint itself, integrated: variance of the crossings of the rays with the mask.
    const Footprint footprint = footprint_of(gun);
    double all = 0, across2 = 0, along2 = 0;
    for (double x = -a + 0.125; x < a; x += 0.25)
        for (double y = -B + 0.125; y < B; y += 0.25) {
            const double f = value_at(footprint, x, y);
            all += f;
            across2 += f * x * x;
            along2 += f * y * y;
        }
    CHECK(along_it == Approx(gap.value / 200 * std::sqrt(across2 / all)).epsilon(1e-3));
    CHECK(over_it == Approx(gap.value / 200 * std::sqrt(along2 / all)).epsilon(1e-3));
}

TEST_CASE("at a disc of ten softnesses the share is within kDiscEdgeError", "[spray][mask]") {
    // Against the disc convolved with a Gaussian in both directions, summed over its rows.
    const double R = 10;
    const Mask mask{Outline::circle({0, 0}, Millimetres{R}), Covers::outside, Millimetres{1}};
    const auto phi = [](double x) { return std::erfc(-x / std::numbers::sqrt2) / 2; };
    double worst = 0;
    for (double x = 5; x < 15; x += 0.25) {
        double blurred = 0;
        constexpr double step = 0.001;
        for (double y = -R + step / 2; y < R; y += step) {
            const double half = std::sqrt(R * R - y * y);
            const double density = std::exp(-y * y / 2) / std::sqrt(2 * std::numbers::pi);
            blurred += step * density * (phi(half - x) - phi(-half - x));
        }
        worst = std::max(worst, std::abs(mask.transmission(x, 0, Millimetres{1}) - blurred));
    }
    CHECK(worst < kDiscEdgeError);
    CHECK(worst > kDiscEdgeError / 2);  // the stated bound is not loose
}

TEST_CASE("rays traced from an even coat past a raised edge give the stated share", "[spray][mask]") {
    // The gun's positions are quantiles of the Gaussian; a ray is transmitted if it crosses the open side.
    const double sigma = 15, d = 180, gap = 12;
    const Millimetres s = edge_softness(round_gun(sigma, d), Millimetres{gap});
    const Mask mask = half_plane(Millimetres{gap});
    for (const double p : {-2.0, -0.6, 0.0, 0.4, 1.7}) {
        double open = 0, all = 0;
        for (double u = -8 * sigma; u <= 8 * sigma; u += 0.01) {
            const double weight = std::exp(-u * u / (2 * sigma * sigma));
            all += weight;
            const double height_share = gap / d;  // of the distance to the gun
            if (p + u * height_share > 0) open += weight;
        }
        CHECK(mask.transmission(0, p, s) == Approx(open / all).margin(5e-4));
    }
}
