#include "fadewright/spray/flatten.h"

#include "some_guns.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::geometry;
using test::at;

namespace {

constexpr double kDistance_mm = 150;

// Numerical integration: the footprint at each step of the travel, weighted by the trigger.
double integrated_um(const Footprint& f, const PassSegment& s, double x, double y) {
    const double film = test::integral(
        0, s.length_mm,
        [&](double t) {
            const double px = (x - s.x_mm - t * s.dx) / s.scale;
            const double py = (y - s.y_mm - t * s.dy) / s.scale;
            const double w = s.w_start + (s.w_end - s.w_start) * t / s.length_mm;
            return w * value_at(f, py * s.dx - px * s.dy, px * s.dx + py * s.dy) / (s.scale * s.scale);
        },
        40000);
    return 1000 * film;
}

double film_um(const Footprint& f, const PassSegment& s, double x, double y) {
    return std::visit([&](const auto& g) { return wet_um(g, s, kDistance_mm, x, y); }, f);
}

std::vector<Footprint> footprints() {
    return {footprint_of(test::round_gun(12)), footprint_of(test::fan_gun(120, 60, 2, 3)),
            footprint_of(test::fan_gun(120, 40, 1.5, 2.2))};
}

}  // namespace

TEST_CASE("the film of a segment agrees with numerical integration", "[spray]") {
    const std::vector<PassSegment> segments{
        {20, 30, 1, 0, 150, 1, 3, 3},          // constant
        {20, 30, 1, 0, 150, 1, 0, 3},          // trigger opening
        {20, 30, 0, -1, 90, 1.4, 3, 0.5},      // closing, at a greater distance
        {20, 30, 0.6, 0.8, 20, 0.7, 1, 2.5}};  // shorter than the footprint
    for (const Footprint& f : footprints())
        for (const PassSegment& s : segments) {
            const double peak = 1000 * pass_profile(f, 0) / s.scale * std::max(s.w_start, s.w_end);
            for (const double along : {-0.12, 0.0, 0.07, 0.4, 0.93, 1.05})
                for (const double across : {-31.0, -8.0, 0.0, 4.0, 22.0}) {
                    const double x = s.x_mm + along * s.length_mm * s.dx - across * s.dy;
                    const double y = s.y_mm + along * s.length_mm * s.dy + across * s.dx;
                    CAPTURE(f.index(), s.scale, along, across);
                    CHECK(film_um(f, s, x, y) ==
                          Approx(integrated_um(f, s, x, y)).margin(1e-6 * peak).epsilon(0));
                }
        }
}

TEST_CASE("a segment has no film outside its box and its rows", "[spray]") {
    for (const Footprint& f : footprints()) {
        const PassSegment s{20, 30, 0.6, 0.8, 60, 1.2, 1, 2.5};
        const Box box = reach(f, kDistance_mm, s);
        for (double y = -150; y <= 250; y += 7)
            for (double x = -150; x <= 250; x += 7) {
                const double film = film_um(f, s, x, y);
                const Interval row = row_reach(f, kDistance_mm, s, y);
                const bool in_box = x >= box.x0 && x <= box.x1 && y >= box.y0 && y <= box.y1;
                if (!in_box || x < row.from || x > row.to) CHECK(film == 0);
            }
    }
}

TEST_CASE("a pass is divided where the trigger's ramps end and begin", "[spray]") {
    const Gun gun = test::round_gun(10);
    Pass pass = test::straight(at(0, 0), at(200, 0));
    pass.feather_on = Millimetres{50};
    pass.feather_off = Millimetres{30};
    pass.overrun = Millimetres{10};
    FlattenedPasses pieces;
    const PaintUse use = flatten_pass(gun, pass, pieces);
    REQUIRE(pieces.segments.size() == 3);
    CHECK(pieces.segments[0].x_mm == Approx(-10));
    CHECK(pieces.segments[0].w_start == 0);
    CHECK(pieces.segments[1].x_mm == Approx(40));
    CHECK(pieces.segments[2].x_mm == Approx(180));
    CHECK(pieces.segments[2].length_mm == Approx(30));
    CHECK(pieces.segments[2].w_end == Approx(0).margin(1e-12));
    CHECK(use.trigger.value == Approx(220.0 / 250));
    // Two ramps count half: 220 - 25 - 15 mm of open trigger, at 30 mL/min and 250 mm/s.
    CHECK(use.sprayed.value == Approx(0.5 * 180 / 250));
}

TEST_CASE("feathers longer than the pass leave the trigger half open", "[spray]") {
    const Gun gun = test::round_gun(10);
    Pass pass = test::straight(at(0, 0), at(100, 0));
    pass.feather_on = Millimetres{150};
    pass.feather_off = Millimetres{50};
    FlattenedPasses pieces;
    const PaintUse use = flatten_pass(gun, pass, pieces);
    REQUIRE(pieces.segments.size() == 2);
    CHECK(pieces.segments[0].length_mm == Approx(75));
    CHECK(pieces.segments[0].w_end == Approx(0.5 * 500 * 0.6 / 250));
    CHECK(use.sprayed.value == Approx(0.5 * 0.5 * 0.5 * 100 / 250));
}

TEST_CASE("ramps continue over the corners of a path", "[spray]") {
    const Gun gun = test::round_gun(10);
    Pass pass = test::straight(at(0, 0), at(30, 0));
    pass.points = {at(0, 0), at(30, 0), at(30, 0), at(30, 40), at(100, 40)};
    pass.feather_on = Millimetres{50};
    FlattenedPasses pieces;
    flatten_pass(gun, pass, pieces);
    REQUIRE(pieces.segments.size() == 4);
    CHECK(pieces.segments[0].w_end == Approx(0.6 * pieces.segments[2].w_end));
    CHECK(pieces.segments[1].w_start == Approx(pieces.segments[0].w_end));
    CHECK(pieces.segments[1].length_mm == Approx(20));
    CHECK(pieces.segments[2].w_start == Approx(pieces.segments[3].w_end));
}
