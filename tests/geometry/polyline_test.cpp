#include "fadewright/geometry/polyline.h"
#include "some_guns.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::geometry;
using test::at;

namespace {

double length_of(const Polyline& line) {
    double length = 0;
    for (std::size_t i = 1; i < line.x_mm.size(); ++i)
        length += std::hypot(line.x_mm[i] - line.x_mm[i - 1], line.y_mm[i] - line.y_mm[i - 1]);
    return length;
}

Pass on_points(const std::vector<Point>& points) {
    Pass pass = test::straight(points.front(), points.back(), 200);
    pass.points = points;
    return pass;
}

double distance_mm(const Polyline& line, const Point& p) {
    double best = 1e9;
    for (std::size_t i = 1; i < line.x_mm.size(); ++i) {
        const double dx = line.x_mm[i] - line.x_mm[i - 1], dy = line.y_mm[i] - line.y_mm[i - 1];
        const double px = p.x.value - line.x_mm[i - 1], py = p.y.value - line.y_mm[i - 1];
        const double t = std::clamp((px * dx + py * dy) / (dx * dx + dy * dy), 0.0, 1.0);
        best = std::min(best, std::hypot(px - t * dx, py - t * dy));
    }
    return best;
}

// Two pieces of the line, not neighbours, meet.
bool has_loop(const std::vector<Point>& line) {
    const auto side = [&](std::size_t a, std::size_t b, std::size_t c) {
        return (line[b].x - line[a].x).value * (line[c].y - line[a].y).value -
               (line[b].y - line[a].y).value * (line[c].x - line[a].x).value;
    };
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
        for (std::size_t j = i + 2; j + 1 < line.size(); ++j)
            if (side(i, i + 1, j) * side(i, i + 1, j + 1) < 0 &&
                side(j, j + 1, i) * side(j, j + 1, i + 1) < 0)
                return true;
    return false;
}

}  // namespace

TEST_CASE("an offset line keeps its distance and has no loops", "[spray]") {
    const std::vector<Polyline> lines{
        smooth_polyline(std::vector<Point>{at(0, 0), at(100, 80), at(130, 90), at(300, -20)}),
        smooth_polyline(std::vector<Point>{at(0, 0), at(150, 10), at(160, 40), at(30, 60), at(0, 200)}),
        straight_polyline(std::vector<Point>{at(0, 0), at(100, 0), at(105, 8), at(110, 0), at(200, 0)}),
        arc_polyline({at(0, 0), Millimetres{40}, Degrees{0}, Degrees{180}})};
    for (const Polyline& line : lines)
        for (const double offset : {3.0, 12.0, 30.0, -3.0, -12.0, -30.0}) {
            const std::vector<OffsetPolyline> parts = offset_polyline(line, Millimetres{offset});
            REQUIRE(!parts.empty());
            for (const OffsetPolyline& part : parts) {
                REQUIRE(part.points.size() == part.corner.size());
                CHECK_FALSE(has_loop(part.points));
                const double tolerance = kOffsetPathTolerance_mm + kOffsetPathShare * std::abs(offset);
                for (const Point& p : part.points)
                    CHECK(distance_mm(line, p) == Approx(std::abs(offset)).margin(tolerance));
                CHECK(std::is_sorted(part.corner.begin(), part.corner.end()));
            }
        }
}

TEST_CASE("an offset line lies to the left, parallel to its path, round outer corners", "[spray]") {
    const Polyline corner = straight_polyline(std::vector<Point>{at(0, 0), at(100, 0), at(100, 100)});
    const std::vector<OffsetPolyline> inner = offset_polyline(corner, Millimetres{10});
    REQUIRE(inner.size() == 1);
    REQUIRE(inner[0].points.size() == 3);
    CHECK(inner[0].points[0] == at(0, 10));
    CHECK(inner[0].points[1].x.value == Approx(90));
    CHECK(inner[0].points[1].y.value == Approx(10));
    CHECK(inner[0].corner.front() == Approx(0).margin(1e-12));
    CHECK(inner[0].corner.back() == Approx(2));
    const std::vector<OffsetPolyline> outer = offset_polyline(corner, Millimetres{-10});
    REQUIRE(outer.size() == 1);
    CHECK(outer[0].points.front() == at(0, -10));
    CHECK(outer[0].points.back() == at(110, 100));
    CHECK(outer[0].points.size() > 10);  // an arc
    // A slot narrower than the offset: nothing is that far inside it.
    const Polyline slot = straight_polyline(std::vector<Point>{at(0, 0), at(100, 0), at(100, 15), at(0, 15)});
    CHECK(offset_polyline(slot, Millimetres{10}).empty());
    CHECK(offset_polyline(slot, Millimetres{-10}).size() == 1);
}

TEST_CASE("an arc has its length and stays at its radius", "[spray]") {
    const Polyline line = arc_polyline({at(10, 20), Millimetres{150}, Degrees{30}, Degrees{210}});
    CHECK(length_of(line) == Approx(150 * std::numbers::pi).epsilon(1e-3));
    for (std::size_t i = 0; i < line.x_mm.size(); ++i)
        CHECK(std::hypot(line.x_mm[i] - 10, line.y_mm[i] - 20) == Approx(150));
    CHECK(line.y_mm[1] > line.y_mm[0]);  // anticlockwise
}

TEST_CASE("a smooth curve passes through its points without corners", "[spray]") {
    const std::vector<Point> points{at(0, 0), at(100, 80), at(130, 90), at(300, -20)};
    const Polyline line = smooth_polyline(points);
    REQUIRE(line.point_index.size() == points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        CHECK(line.x_mm[line.point_index[i]] == Approx(points[i].x.value).margin(1e-9));
        CHECK(line.y_mm[line.point_index[i]] == Approx(points[i].y.value).margin(1e-9));
    }
    for (std::size_t i = 2; i < line.x_mm.size(); ++i) {
        const double ax = line.x_mm[i - 1] - line.x_mm[i - 2], ay = line.y_mm[i - 1] - line.y_mm[i - 2];
        const double bx = line.x_mm[i] - line.x_mm[i - 1], by = line.y_mm[i] - line.y_mm[i - 1];
        CHECK(std::abs(std::atan2(ax * by - ay * bx, ax * bx + ay * by)) < 2 * kMaxTurn_rad);
    }
}

TEST_CASE("a curve through points on one line is that line", "[spray]") {
    const Polyline line = smooth_polyline(std::vector<Point>{at(0, 0), at(10, 5), at(40, 20), at(100, 50)});
    for (std::size_t i = 0; i < line.x_mm.size(); ++i)
        CHECK(line.y_mm[i] == Approx(line.x_mm[i] / 2).margin(1e-9));
}

TEST_CASE("the film along a curve is the limit of many short segments", "[spray][property]") {
    for (const Gun& gun : {test::round_gun(12), test::fan_gun(90, 30, 2.5, 2.5)}) {
        Pass arc;
        arc.arc = Arc{at(0, 0), Millimetres{140}, Degrees{0}, Degrees{150}};
        arc.speed = MillimetresPerSecond{200};
        const Deposit curved = test::deposit(gun, {arc});
        std::vector<Point> corners;
        for (int i = 0; i <= 3000; ++i) {
            const double angle = i * 150.0 / 3000 * std::numbers::pi / 180;
            corners.push_back(at(140 * std::cos(angle), 140 * std::sin(angle)));
        }
        const Deposit pieces = test::deposit(gun, {on_points(corners)});
        double peak = 0, worst = 0;
        for (double y = -60; y <= 220; y += 8.3)
            for (double x = -220; x <= 220; x += 9.7) {
                peak = std::max(peak, pieces.wet_um(x, y));
                worst = std::max(worst, std::abs(pieces.wet_um(x, y) - curved.wet_um(x, y)));
            }
        CAPTURE(static_cast<int>(gun.pattern), peak, worst);
        CHECK(worst < 2e-3 * peak);
        CHECK(curved.sprayed_volume().value == Approx(pieces.sprayed_volume().value).epsilon(1e-3));
        CHECK(test::paint_mL(curved, -320, -180, 320, 320, 1.0) ==
              Approx(curved.landed_on_infinite_plane().value).epsilon(1e-4));
    }
}

TEST_CASE("a mirrored curve gives a mirrored film", "[spray][property]") {
    const Gun gun = test::fan_gun(90, 30, 2.5, 2.5);
    Pass pass = on_points({at(0, 0), at(100, 80), at(130, 90), at(300, -20)});
    pass.smooth = true;
    pass.heel_angle = Degrees{20};
    Pass mirrored = on_points({at(0, 0), at(-100, 80), at(-130, 90), at(-300, -20)});
    mirrored.smooth = true;
    mirrored.heel_angle = Degrees{-20};
    const Deposit a = test::deposit(gun, {pass}), b = test::deposit(gun, {mirrored});
    for (double y = -60; y <= 150; y += 12.5)
        for (double x = -60; x <= 360; x += 17.5)
            CHECK(a.wet_um(x, y) == Approx(b.wet_um(-x, y)).margin(1e-9));
}
