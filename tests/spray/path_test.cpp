#include "fadewright/spray/path.h"

#include "some_guns.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::geometry;
using test::at;

namespace {

Sweep sweep_over(Point from, Point to, double overlap) {
    Sweep sweep;
    sweep.from = from;
    sweep.to = to;
    sweep.overlap = Share{overlap};
    return sweep;
}

double length_of(const Pass& pass) {
    return std::hypot((pass.points[1].x - pass.points[0].x).value,
                      (pass.points[1].y - pass.points[0].y).value);
}

}  // namespace

TEST_CASE("a horizontal sweep starts on the near edge and steps across the rectangle", "[spray]") {
    const Gun gun = test::fan_gun(200, 50, 2, 2);
    const auto passes = sweep_passes(sweep_over(at(10, 20), at(410, 330), 0.5), gun);
    REQUIRE(passes.size() == 4);
    for (std::size_t i = 0; i < passes.size(); ++i) {
        const double y = 20 + 100.0 * static_cast<double>(i);
        CHECK(passes[i].points == std::vector<Point>{at(10, y), at(410, y)});
    }
}

TEST_CASE("a sweep starts on the side of its first corner", "[spray]") {
    const Gun gun = test::fan_gun(200, 50, 2, 2);
    const auto down = sweep_passes(sweep_over(at(10, 330), at(410, 20), 0.5), gun);
    REQUIRE(down.size() == 4);
    CHECK(down.front().points.front() == at(10, 330));
    CHECK(down.back().points.front().y.value == Approx(30));
}

TEST_CASE("overlap, distance and offset set the lines of a sweep", "[spray]") {
    const Gun round = test::round_gun(10);
    Sweep sweep = sweep_over(at(0, 0), at(100, 100), 0.75);
    CHECK(pass_spacing(sweep, round).value == Approx(10));  // a quarter of four sigma
    sweep.distance = Millimetres{2 * round.distance.value};
    CHECK(pass_spacing(sweep, round).value == Approx(20));
    sweep.offset = Share{0.5};
    const auto passes = sweep_passes(sweep, round);
    REQUIRE(passes.size() == 5);
    CHECK(passes.front().points.front().y.value == Approx(10));
    CHECK(passes.back().points.front().y.value == Approx(90));
    CHECK(passes.front().distance == sweep.distance);
}

TEST_CASE("a crossed sweep adds a set at a right angle", "[spray]") {
    const Gun gun = test::fan_gun(100, 50, 2, 2);
    Sweep sweep = sweep_over(at(0, 0), at(200, 100), 0.5);
    sweep.cross = true;
    const auto passes = sweep_passes(sweep, gun);
    REQUIRE(passes.size() == 3 + 5);
    CHECK(passes[3].points == std::vector<Point>{at(0, 0), at(0, 100)});
    CHECK(passes[7].points == std::vector<Point>{at(200, 0), at(200, 100)});
}

TEST_CASE("a slanted sweep keeps its spacing and stays in the rectangle", "[spray]") {
    const Gun gun = test::fan_gun(60, 30, 2, 2);
    for (const double degrees : {30.0, 45.0, -70.0, 135.0}) {
        CAPTURE(degrees);
        Sweep sweep = sweep_over(at(50, 20), at(250, 170), 0.5);
        sweep.direction = Degrees{degrees};
        const auto passes = sweep_passes(sweep, gun);
        REQUIRE(passes.size() > 3);
        const double angle = degrees * std::numbers::pi / 180;
        std::vector<double> places;
        double travel = 0;
        for (const Pass& pass : passes) {
            for (const Point& p : pass.points) {
                CHECK(p.x.value == Approx(std::clamp(p.x.value, 50.0, 250.0)).margin(1e-6));
                CHECK(p.y.value == Approx(std::clamp(p.y.value, 20.0, 170.0)).margin(1e-6));
            }
            const Point& p = pass.points[0];
            places.push_back(-std::sin(angle) * p.x.value + std::cos(angle) * p.y.value);
            travel += length_of(pass);
        }
        for (std::size_t i = 1; i < places.size(); ++i)
            CHECK(std::abs(places[i] - places[i - 1]) == Approx(30).margin(1e-6));
        // Lines 30 mm apart fill the rectangle: their length times the spacing is its area, within a line or
        // two.
        CHECK(travel * 30 == Approx(200 * 150).epsilon(0.1));
    }
}

TEST_CASE("every pass of a sweep has its settings", "[spray]") {
    Sweep sweep = sweep_over(at(0, 0), at(300, 200), 0.5);
    sweep.speed = MillimetresPerSecond{180};
    sweep.repeats = 3;
    sweep.feather_on = Millimetres{40};
    sweep.feather_off = Millimetres{60};
    sweep.overrun = Millimetres{25};
    for (const Pass& pass : sweep_passes(sweep, test::fan_gun(150, 40, 2, 2))) {
        CHECK(pass.speed == sweep.speed);
        CHECK(pass.repeats == 3);
        CHECK(pass.feather_on == sweep.feather_on);
        CHECK(pass.feather_off == sweep.feather_off);
        CHECK(pass.overrun == sweep.overrun);
    }
}

TEST_CASE("the minimum width is the full width of a pass at half maximum", "[spray]") {
    Gun fan = test::fan_gun(240, 80, 2, 2);
    Pass pass = test::straight(at(0, 0), at(100, 0));
    const double u = min_width(fan, pass).value / 80;
    CHECK(std::pow(1 - u * u, 1.5) == Approx(0.5));
    const Gun round = test::round_gun(10);
    const Footprint f = footprint_of(round);
    CHECK(pass_profile(f, min_width(round, pass).value / 2) == Approx(pass_profile(f, 0) / 2));
    pass.distance = Millimetres{3 * round.distance.value};
    CHECK(min_width(round, pass).value == Approx(30 * 2.3548).epsilon(1e-4));
}
