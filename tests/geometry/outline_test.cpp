#include "fadewright/geometry/outline.h"

#include "fadewright/base/random.h"
#include "fadewright/spray/panel.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::geometry;

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kRounding_mm = 1e-9;

Ring box_ring(double x0, double y0, double x1, double y1) { return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}; }

Panel panel_of(double width, double height, double corner_radius) {
    Panel panel;
    panel.width = Millimetres{width};
    panel.height = Millimetres{height};
    panel.corner_radius = Millimetres{corner_radius};
    return panel;
}

Outline concave_L() { return Outline({{{0, 0}, {100, 0}, {100, 30}, {40, 30}, {40, 90}, {0, 90}}}); }

// A star about (x, y), its corners at random radii.
Ring star(std::uint64_t seed, int corners, double x, double y, double radius) {
    Ring ring;
    for (int i = 0; i < corners; ++i) {
        const double r = radius * (0.3 + 0.7 * uniform01(seed, 1, static_cast<std::uint64_t>(i)));
        ring.push_back({x + r * std::cos(2 * kPi * i / corners), y + r * std::sin(2 * kPi * i / corners)});
    }
    return ring;
}

// All edges tested for distance and crossing: reference implementation without a tree.
double plain_signed_distance(const std::vector<Ring>& rings, double x, double y) {
    double best = std::numeric_limits<double>::infinity();
    bool odd = false;
    for (const Ring& ring : rings)
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const PlanePoint a = ring[i], b = ring[(i + 1) % ring.size()];
            const double dx = b.x_mm - a.x_mm, dy = b.y_mm - a.y_mm;
            const double t =
                std::clamp(((x - a.x_mm) * dx + (y - a.y_mm) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
            best = std::min(best, std::hypot(x - a.x_mm - t * dx, y - a.y_mm - t * dy));
            if ((a.y_mm > y) != (b.y_mm > y) && x < a.x_mm + (y - a.y_mm) / dy * dx) odd = !odd;
        }
    return odd ? -best : best;
}

enum class Between { corners, edges };  // of a ring: at its corners, or in the middle of its edges

double worst_excess_mm(const Outline& outline, const Ring& ring, double offset, Between between) {
    double worst = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const PlanePoint a = ring[i], b = between == Between::corners ? a : ring[(i + 1) % ring.size()];
        const double distance = outline.signed_distance_mm((a.x_mm + b.x_mm) / 2, (a.y_mm + b.y_mm) / 2);
        worst = std::max(worst, std::abs(distance - offset));
    }
    return worst;
}

double summed_area_mm2(const std::vector<Ring>& rings) {
    double sum = 0;
    for (const Ring& ring : rings) sum += signed_area_mm2(ring);
    return sum;
}

}  // namespace

TEST_CASE("a rectangle of edges agrees with the panel's closed form", "[spray][outline]") {
    const double radius = GENERATE(0.0, 40.0, 100.0);
    const Panel panel = panel_of(300, 200, radius);
    const Outline outline = Outline::rectangle(panel.width, panel.height, panel.corner_radius);
    // Every chord cuts off two thirds of its height.
    const double left_out_mm2 = 2.0 / 3 * kRoundTolerance_mm * 2 * kPi * radius;
    const double missing_mm2 = (panel.area_m2() - outline.area_m2()) * 1e6;
    CHECK(missing_mm2 <= left_out_mm2 + kRounding_mm * 1000);
    CHECK(missing_mm2 >= -kRounding_mm * 1000);
    CHECK(outline.length_mm() == Approx(2 * (300 + 200) - (8 - 2 * kPi) * radius).epsilon(1e-5));
    CHECK(outline.bounds().x0 == Approx(0).margin(kRounding_mm));
    CHECK(outline.bounds().x1 == Approx(300));
    CHECK(outline.bounds().y1 == Approx(200));
    double worst = 0;
    int different = 0;
    for (double y = -61.3; y < 260; y += 3.7)
        for (double x = -57.1; x < 360; x += 3.9) {
            const double exact = panel.signed_distance_mm(x, y);
            worst = std::max(worst, std::abs(outline.signed_distance_mm(x, y) - exact));
            if (std::abs(exact) > kRoundTolerance_mm) different += outline.inside(x, y) != panel.inside(x, y);
        }
    CHECK(worst < kRoundTolerance_mm + kRounding_mm);
    CHECK(different == 0);
}

TEST_CASE("a circle of edges is a circle to the stated tolerance", "[spray][outline]") {
    const Outline circle = Outline::circle({30, -20}, Millimetres{75});
    CHECK(circle.area_m2() == Approx(kPi * 75 * 75 * 1e-6).epsilon(2e-5));
    double worst = 0;
    for (double y = -150; y < 110; y += 2.3)
        for (double x = -100; x < 160; x += 2.9)
            worst = std::max(worst,
                             std::abs(circle.signed_distance_mm(x, y) - (std::hypot(x - 30, y + 20) - 75)));
    CHECK(worst < kRoundTolerance_mm + kRounding_mm);
    CHECK(circle.signed_distance_mm(1e5, -20) == Approx(1e5 - 105));  // far away
}

TEST_CASE("a ring within a ring is a hole, and two rings are two areas", "[spray][outline]") {
    for (const bool reversed_hole : {false, true}) {  // the direction of a ring is irrelevant
        Ring hole = box_ring(40, 30, 60, 70);
        if (reversed_hole) std::reverse(hole.begin(), hole.end());
        const Outline outline({box_ring(0, 0, 100, 100), hole, box_ring(150, 0, 170, 20)});
        CHECK(outline.area_m2() == Approx((10000 - 800 + 400) * 1e-6));
        CHECK(outline.length_mm() == Approx(400 + 120 + 80));
        CHECK(outline.signed_distance_mm(50, 50) == Approx(10));    // in the hole
        CHECK(outline.signed_distance_mm(35, 50) == Approx(-5));    // beside it
        CHECK(outline.signed_distance_mm(160, 10) == Approx(-10));  // in the other area
        CHECK(outline.signed_distance_mm(120, 10) == Approx(20));   // between the two
        const std::vector<Interval> row = outline.row_intervals(50);
        REQUIRE(row.size() == 2);
        CHECK(row[0].to == Approx(40));
        CHECK(row[1].from == Approx(60));
        CHECK(row[1].to == Approx(100));
        CHECK(outline.row_intervals(10).size() == 2);
        CHECK(outline.row_intervals(100.1).empty());
    }
}

TEST_CASE("a concave corner has its distance on both sides", "[spray][outline]") {
    const Outline L = concave_L();
    CHECK(L.area_m2() == Approx((3000 + 2400) * 1e-6));
    CHECK(L.signed_distance_mm(43, 34) == Approx(3));
    CHECK(L.signed_distance_mm(37, 26) == Approx(-5));  // from the corner itself
    CHECK(L.signed_distance_mm(70, 60) == Approx(30));
    CHECK(L.signed_distance_mm(-3, -4) == Approx(5));
    const DistanceGradient from_corner = L.distance_gradient(37, 26);
    CHECK(from_corner.dx == Approx(0.6));
    CHECK(from_corner.dy == Approx(0.8));
}

TEST_CASE("on random stars the distance is that of the nearest edge", "[spray][outline]") {
    double worst = 0;
    int wrong_side = 0;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        const int corners = 5 + static_cast<int>(seed * seed) * 4;
        // A hole, another area, and a ring that crosses the first.
        const std::vector<Ring> rings{star(seed, corners, 0, 0, 100), star(seed + 50, 9, 0, 0, 25),
                                      star(seed + 90, 31, 160, 20, 50), star(seed + 70, 7, 80, 0, 60)};
        const Outline outline(rings);
        for (std::uint64_t i = 0; i < 2000; ++i) {
            const double x = -200 + 500 * uniform01(seed, 7, i);
            const double y = -200 + 400 * uniform01(seed, 8, i);
            const double reference = plain_signed_distance(rings, x, y);
            const double fast = outline.signed_distance_mm(x, y);
            worst = std::max(worst, std::abs(std::abs(reference) - std::abs(fast)));
            wrong_side += std::signbit(reference) != std::signbit(fast);
            CHECK(outline.distance_gradient(x, y).distance_mm == fast);
            const double near = outline.distance_gradient(x, y, 10).distance_mm;
            CHECK((std::abs(fast) < 10 ? near == fast : std::isinf(near)));
            CHECK(std::signbit(near) == std::signbit(fast));
        }
    }
    CHECK(worst < kRounding_mm);
    CHECK(wrong_side == 0);
}

TEST_CASE("the distance grows at unit rate along its gradient", "[spray][outline]") {
    const Outline outline({star(3, 40, 0, 0, 100)});
    for (std::uint64_t i = 0; i < 500; ++i) {
        const double x = -150 + 300 * uniform01(5, 1, i);
        const double y = -150 + 300 * uniform01(5, 2, i);
        const DistanceGradient a = outline.distance_gradient(x, y);
        CHECK(std::hypot(a.dx, a.dy) == Approx(1));
        const double h = std::min(1e-4, std::abs(a.distance_mm) / 2) * (a.distance_mm < 0 ? 1 : -1);
        CHECK(outline.signed_distance_mm(x + h * a.dx, y + h * a.dy) ==
              Approx(a.distance_mm + h).margin(kRounding_mm));
    }
    // On the edge itself the direction is the edge's own.
    const DistanceGradient on = concave_L().distance_gradient(70, 30);
    CHECK(on.distance_mm == Approx(0).margin(kRounding_mm));
    CHECK(on.dx == Approx(0).margin(1e-6));
    CHECK(on.dy == Approx(1));
}

TEST_CASE("the intervals of all rows add up to the area", "[spray][outline]") {
    for (const Outline& outline :
         {concave_L(), Outline::circle({0, 0}, Millimetres{60}),
          Outline({star(4, 60, 0, 0, 80), star(9, 20, 10, 5, 30), star(11, 15, 60, 0, 50)})}) {
        const Box box = outline.bounds();
        constexpr int rows = 21000;  // the inner corner of the L lies between two of them
        const double high = (box.y1 - box.y0) / rows;
        double sum = 0;
        for (int i = 0; i < rows; ++i)
            for (const Interval& interval : outline.row_intervals(box.y0 + (i + 0.5) * high))
                sum += high * (interval.to - interval.from);
        CHECK(outline.area_m2() == Approx(sum * 1e-6).epsilon(1e-5));
    }
    // A bow tie: two triangles that meet at a crossing.
    CHECK(Outline({{{0, 0}, {10, 10}, {10, 0}, {0, 10}}}).area_m2() == Approx(50e-6).epsilon(1e-9));
    // A pentagram: its middle is outside.
    Ring pentagram;
    for (int i = 0; i < 5; ++i)
        pentagram.push_back({10 * std::sin(4 * kPi * i / 5), 10 * std::cos(4 * kPi * i / 5)});
    const double middle_radius = 10 * std::cos(2 * kPi / 5) / std::cos(kPi / 5);
    const double triangles = 5 * 10 * middle_radius * std::sin(kPi / 5);
    const double middle = 2.5 * middle_radius * middle_radius * std::sin(2 * kPi / 5);
    CHECK(Outline({pentagram}).area_m2() == Approx((triangles - middle) * 1e-6).epsilon(1e-9));
    // The same ring twice: nothing is inside.
    CHECK(Outline({box_ring(0, 0, 10, 10), box_ring(0, 0, 10, 10)}).area_m2() == Approx(0).margin(1e-15));
    // Overlapping squares: their intersection is outside.
    CHECK(Outline({box_ring(0, 0, 10, 10), box_ring(5, 5, 15, 15)}).area_m2() == Approx(150e-6));
}

TEST_CASE("an offset line of a circle is a circle", "[spray][outline]") {
    const Outline circle = Outline::circle({10, 20}, Millimetres{50});
    for (const double offset : {-30.0, -0.3, 0.0, 12.0, 200.0}) {
        const std::vector<Ring> rings = circle.offset_rings(Millimetres{offset});
        REQUIRE(rings.size() == 1);
        CHECK(signed_area_mm2(rings[0]) > 0);
        double worst = 0;
        for (std::size_t i = 0; i < rings[0].size(); ++i) {
            const PlanePoint a = rings[0][i], b = rings[0][(i + 1) % rings[0].size()];
            CHECK(std::abs(circle.signed_distance_mm(a.x_mm, a.y_mm) - offset) < kOffsetAccuracy_mm);
            const double middle = std::hypot((a.x_mm + b.x_mm) / 2 - 10, (a.y_mm + b.y_mm) / 2 - 20);
            worst = std::max(worst, std::abs(middle - 50 - offset));
        }
        CHECK(worst < kOffsetLineTolerance_mm + kRoundTolerance_mm);
        CHECK(rings[0].size() < 800);
    }
    CHECK(circle.offset_rings(Millimetres{-50.1}).empty());
}

TEST_CASE("inner offset lines of a rounded rectangle lose their corner radius, and finally vanish",
          "[spray][outline]") {
    const Outline rectangle = Outline::rectangle(Millimetres{300}, Millimetres{200}, Millimetres{40});
    const std::vector<Ring> inner = rectangle.offset_rings(Millimetres{-25});
    REQUIRE(inner.size() == 1);
    const Panel expected = panel_of(250, 150, 15);
    CHECK(signed_area_mm2(inner[0]) == Approx(expected.area_m2() * 1e6).epsilon(1e-4));
    CHECK(inner[0][0].y_mm == Approx(25).margin(kOffsetAccuracy_mm));  // it begins at the bottom
    for (const PlanePoint& c : inner[0])
        CHECK(expected.signed_distance_mm(c.x_mm - 25, c.y_mm - 25) == Approx(0).margin(2e-3));
    const std::vector<Ring> square = rectangle.offset_rings(Millimetres{-60});  // sharp corners by now
    REQUIRE(square.size() == 1);
    CHECK(signed_area_mm2(square[0]) == Approx(180 * 80).epsilon(1e-4));
    CHECK(rectangle.offset_rings(Millimetres{-100.1}).empty());
    const Outline sharp = Outline::rectangle(Millimetres{300}, Millimetres{200}, Millimetres{0});
    CHECK(sharp.offset_rings(Millimetres{-38})[0][0].x_mm == Approx(38));  // the leftmost of the lowest
    const std::vector<Ring> outer = rectangle.offset_rings(Millimetres{10});
    REQUIRE(outer.size() == 1);
    CHECK(signed_area_mm2(outer[0]) ==
          Approx(panel_of(320, 220, 50).area_m2() * 1e6).margin(kOffsetLineTolerance_mm * 2 * kPi * 50));
}

TEST_CASE("offset lines split at necks, join over gaps and surround holes", "[spray][outline]") {
    // Two squares on a neck 10 wide: from 5 inwards the neck is gone.
    const Outline dumbbell({{{0, 0},
                             {60, 0},
                             {60, 25},
                             {100, 25},
                             {100, 0},
                             {160, 0},
                             {160, 60},
                             {100, 60},
                             {100, 35},
                             {60, 35},
                             {60, 60},
                             {0, 60}}});
    CHECK(dumbbell.offset_rings(Millimetres{-4}).size() == 1);
    CHECK(dumbbell.offset_rings(Millimetres{-6}).size() == 2);
    CHECK(dumbbell.offset_rings(Millimetres{-31}).empty());
    const Outline pair({box_ring(0, 0, 20, 20), box_ring(30, 0, 50, 20)});
    CHECK(pair.offset_rings(Millimetres{4}).size() == 2);
    CHECK(pair.offset_rings(Millimetres{6}).size() == 1);
    const Outline frame({box_ring(0, 0, 100, 100), box_ring(30, 30, 70, 70)});
    const std::vector<Ring> both = frame.offset_rings(Millimetres{-5});
    REQUIRE(both.size() == 2);
    // About the hole the line is convex: corners of radius 5.
    CHECK(summed_area_mm2(both) == Approx(90 * 90 + 50 * 50 - (4 - kPi) * 25).epsilon(1e-4));
    for (const Ring& ring : both) CHECK(signed_area_mm2(ring) > 0);
    CHECK(frame.offset_rings(Millimetres{25}).size() == 1);  // the hole has filled up
}

TEST_CASE("an offset line of a gear with sixty sharp teeth is one ring", "[spray][outline]") {
    Ring teeth;
    for (int i = 0; i < 120; ++i) {
        const double r = i % 2 == 0 ? 250 : 200, angle = kPi * i / 60;
        teeth.push_back({r * std::cos(angle), r * std::sin(angle)});
    }
    const Outline gear({teeth});
    for (const double offset : {-3.0, 8.0}) {
        const std::vector<Ring> rings = gear.offset_rings(Millimetres{offset});
        REQUIRE(rings.size() == 1);
        CHECK(worst_excess_mm(gear, rings[0], offset, Between::corners) < kOffsetAccuracy_mm);
        CHECK(worst_excess_mm(gear, rings[0], offset, Between::edges) < kOffsetLineTolerance_mm);
    }
}

TEST_CASE("an offset line keeps a frame of which a tenth of a millimetre is left", "[spray][outline]") {
    const Outline frame({box_ring(0, 0, 1000, 1000), box_ring(40, 40, 960, 960)});
    const std::vector<Ring> rings = frame.offset_rings(Millimetres{-19.95});
    REQUIRE(rings.size() == 2);
    const double outer = 1000 - 2 * 19.95, inner = 920 + 2 * 19.95;
    // Round corners about the hole, of the radius of the offset.
    const double corners = (4 - kPi) * 19.95 * 19.95;
    CHECK(signed_area_mm2(rings[0]) == Approx(outer * outer).epsilon(1e-9));
    CHECK(signed_area_mm2(rings[1]) ==
          Approx(inner * inner - corners).margin(kOffsetLineTolerance_mm * 2 * kPi * 19.95));
}

TEST_CASE("corners of offset lines of random stars keep the stated distance", "[spray][outline]") {
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        const Outline outline({star(seed, 5 + static_cast<int>(seed) * 20, 0, 0, 100),
                               star(seed + 50, 9, 0, 0, 25), star(seed + 90, 31, 160, 20, 50)});
        for (const double offset : {-6.0, -2.0, 0.7, 5.0, 40.0})
            for (const Ring& ring : outline.offset_rings(Millimetres{offset})) {
                CHECK(worst_excess_mm(outline, ring, offset, Between::corners) < kOffsetAccuracy_mm);
                CHECK(worst_excess_mm(outline, ring, offset, Between::edges) < kOffsetLineTolerance_mm);
            }
    }
}

TEST_CASE("a ring that crosses itself is found, one that touches itself is not", "[spray][outline]") {
    CHECK_FALSE(self_crossing(box_ring(0, 0, 10, 10)));
    CHECK_FALSE(self_crossing(star(4, 60, 0, 0, 80)));
    const std::optional<PlanePoint> bow_tie = self_crossing({{0, 0}, {10, 10}, {10, 0}, {0, 10}});
    REQUIRE(bow_tie);
    CHECK(bow_tie->x_mm == Approx(5));
    CHECK(bow_tie->y_mm == Approx(5));
    CHECK(self_crossing({{0, 0}, {10, 10}, {5, 5}, {10, 0}, {0, 10}, {5, 5}}));        // at a corner
    CHECK(self_crossing({{0, 0}, {10, 0}, {10, 10}, {20, 10}, {10, 10}, {0, 10}}));    // out and back
    CHECK_FALSE(self_crossing({{0, 0}, {10, 0}, {5, 5}, {10, 10}, {0, 10}, {5, 5}}));  // two triangles
}

TEST_CASE("an outline at no distance from itself is itself", "[spray][outline]") {
    const Outline outline({star(6, 25, 0, 0, 100), star(8, 12, 0, 0, 20)});
    const Outline again(outline.offset_rings(Millimetres{0}));
    CHECK(again.area_m2() == Approx(outline.area_m2()).epsilon(1e-3));
    CHECK(again.rings().size() == 2);
}

TEST_CASE("an outline without rings has nothing inside and infinite distance", "[spray][outline]") {
    const Outline nothing({});
    CHECK(nothing.empty());
    CHECK_FALSE(nothing.inside(0, 0));
    CHECK(std::isinf(nothing.signed_distance_mm(3, 4)));
    CHECK(nothing.area_m2() == 0);
    CHECK(nothing.row_intervals(0).empty());
    CHECK(nothing.offset_rings(Millimetres{5}).empty());
    CHECK(Outline({{{0, 0}, {1, 1}}}) == nothing);   // a line is not a ring
    const Outline flat({{{0, 0}, {1, 0}, {2, 0}}});  // a ring without area
    CHECK(flat.area_m2() == 0);
    CHECK_FALSE(flat.inside(1, 0));
    CHECK(flat.signed_distance_mm(1, 3) == Approx(3));
}

TEST_CASE("a simplified ring stays within the tolerance and keeps its corners", "[spray][outline]") {
    Ring dense;
    for (int i = 0; i < 400; ++i) {
        const double along = i % 100, side = i / 100;
        dense.push_back(side == 0   ? PlanePoint{along, 0}
                        : side == 1 ? PlanePoint{100, along}
                        : side == 2 ? PlanePoint{100 - along, 100}
                                    : PlanePoint{0, 100 - along});
    }
    CHECK(simplify(dense, 0.001) == box_ring(0, 0, 100, 100));
}

TEST_CASE("areas that touch at a corner split or join by the centre of their cell", "[spray][outline]") {
    GridNodes grid(4, 4);
    grid.inside[grid.index(1, 1)] = grid.inside[grid.index(2, 2)] = 1;
    const auto midpoint = [](GridNode in, GridNode out) {
        return PlanePoint{(in.column + out.column) / 2.0, (in.row + out.row) / 2.0};
    };
    const auto distance = contours(grid, {midpoint, [](GridNode) { return false; }});
    REQUIRE(distance.size() == 2);
    for (const Ring& ring : distance) CHECK(signed_area_mm2(ring) == Approx(0.5));
    CHECK(distance[0][0] == PlanePoint{1, 0.5});  // its lowest
    const auto joined = contours(grid, {midpoint, [](GridNode) { return true; }});
    REQUIRE(joined.size() == 1);
    CHECK(signed_area_mm2(joined[0]) == Approx(0.5 + 0.5 + 0.5));
}
