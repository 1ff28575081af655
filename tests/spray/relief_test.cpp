#include "fadewright/spray/relief.h"

#include "fadewright/base/random.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

using namespace fadewright;
using namespace fadewright::spray;
using namespace fadewright::geometry;

namespace {

constexpr double kPi = std::numbers::pi;
const Box kBox{0, 0, 200, 150};

Relief relief_of(ReliefPart part) { return Relief({std::move(part)}, kBox); }

// Slopes against differences of heights, at points away from kinks and ends.
void check_slopes(const Relief& relief, const std::function<bool(double, double)>& smooth,
                  double margin = 1e-6) {
    constexpr double h = 1e-4;
    int queries = 0;
    for (std::uint64_t i = 0; i < 600; ++i) {
        const double x = 200 * uniform01(11, 1, i), y = 150 * uniform01(11, 2, i);
        if (!smooth(x, y)) continue;
        ++queries;
        CAPTURE(x, y);
        const SurfaceSample s = relief.at(x, y);
        CHECK(
            s.dz_dx ==
            Approx((relief.at(x + h, y).height_mm - relief.at(x - h, y).height_mm) / (2 * h)).margin(margin));
        CHECK(
            s.dz_dy ==
            Approx((relief.at(x, y + h).height_mm - relief.at(x, y - h).height_mm) / (2 * h)).margin(margin));
    }
    CHECK(queries > 100);
}

bool anywhere(double, double) { return true; }

PolylineSet one_line() { return PolylineSet(std::vector<Ring>{{{20, 75}, {180, 75}}}); }

}  // namespace

TEST_CASE("without parts a piece is flat", "[spray][relief]") {
    const Relief flat;
    CHECK(flat.flat());
    CHECK(flat.at(3, 4).height_mm == 0);
    CHECK(flat.curvature(3, 4, 1) == 0);
    CHECK(flat.lowest_mm() == 0);
    CHECK_FALSE(relief_of(Sphere{{0, 0}, Millimetres{100}}).flat());
}

TEST_CASE("a cylinder falls from its top line along its circle", "[spray][relief]") {
    const double R = 300;
    const Relief upright = relief_of(Cylinder{{100, 20}, Degrees{90}, Millimetres{R}});
    CHECK(upright.at(100, 77).height_mm == Approx(0).margin(1e-12));
    const SurfaceSample distance = upright.at(160, 5);
    CHECK(distance.height_mm == Approx(std::sqrt(R * R - 3600) - R));
    CHECK(distance.dz_dx == Approx(-60 / std::sqrt(R * R - 3600)));
    CHECK(distance.dz_dy == Approx(0).margin(1e-12));
    const Relief lying = relief_of(Cylinder{{100, 20}, Degrees{0}, Millimetres{R}});
    CHECK(lying.at(5, 80).height_mm == Approx(std::sqrt(R * R - 3600) - R));
    const Relief slanting = relief_of(Cylinder{{100, 20}, Degrees{30}, Millimetres{R}});
    const double t = 50 * std::sin(kPi / 6);  // 50 to the right of a point of the axis
    CHECK(slanting.at(150, 20).height_mm == Approx(std::sqrt(R * R - t * t) - R));
    check_slopes(slanting, anywhere);
    CHECK(slanting.curvature(120, 40, 0.5) == Approx(1 / (2 * R)).epsilon(1e-4));
    CHECK(upright.lowest_mm() == Approx(std::sqrt(R * R - 100 * 100) - R));
    CHECK(upright.highest_mm() == Approx(0).margin(1e-12));
}

TEST_CASE("beyond its horizon a cylinder or a sphere has no surface", "[spray][relief]") {
    for (const Relief& relief : {relief_of(Cylinder{{100, 0}, Degrees{90}, Millimetres{50}}),
                                 relief_of(Sphere{{100, 75}, Millimetres{50}})}) {
        CHECK_FALSE(relief.at(149.9, 75).no_surface);
        CHECK(std::abs(relief.at(149.9, 75).dz_dx) < kMaxSlope);
        CHECK(std::abs(relief.at(149.93, 75).dz_dx) == Approx(kMaxSlope).epsilon(0.1));
        for (const double x : {150.0, 170.0, 1e4}) {
            CHECK(relief.at(x, 75).no_surface);
            CHECK(relief.at(x, 75).dz_dx == 0);
            CHECK(relief.at(x, 75).height_mm == Approx(relief.at(149.9375, 75).height_mm).margin(0.01));
        }
    }
}

TEST_CASE("a sphere and a dome are caps of spheres", "[spray][relief]") {
    const double R = 250;
    const Relief sphere = relief_of(Sphere{{100, 75}, Millimetres{R}});
    CHECK(sphere.at(100, 75).height_mm == 0);
    CHECK(sphere.at(130, 115).height_mm == Approx(std::sqrt(R * R - 2500) - R));
    check_slopes(sphere, anywhere);
    CHECK(sphere.curvature(130, 90, 0.5) == Approx(1 / R).epsilon(1e-4));
    CHECK(sphere.lowest_mm() == Approx(std::sqrt(R * R - 100 * 100 - 75 * 75) - R));

    const Relief dome = relief_of(Dome{{100, 75}, Millimetres{60}, Millimetres{20}});
    const double cap = (60 * 60 + 20 * 20) / (2 * 20.0);
    CHECK(dome.at(100, 75).height_mm == Approx(20));
    CHECK(dome.at(160, 75).height_mm == 0);
    CHECK(dome.at(159.999, 75).height_mm == Approx(0).margin(1e-3));
    CHECK(dome.at(100, 105).height_mm == Approx(std::sqrt(cap * cap - 900) - (cap - 20)));
    CHECK(dome.curvature(110, 75, 0.5) == Approx(1 / cap).epsilon(1e-4));
    check_slopes(dome, [](double x, double y) { return std::abs(std::hypot(x - 100, y - 75) - 60) > 0.01; });
    const Relief dish = relief_of(Dome{{100, 75}, Millimetres{60}, Millimetres{-20}});
    CHECK(dish.at(110, 80).height_mm == -dome.at(110, 80).height_mm);
    CHECK(dish.at(110, 80).dz_dx == -dome.at(110, 80).dz_dx);
    CHECK(dish.curvature(110, 75, 0.5) < 0);
    CHECK(dish.lowest_mm() == -20);
    CHECK(dish.highest_mm() == 0);
    const Relief half_ball = relief_of(Dome{{100, 75}, Millimetres{60}, Millimetres{60}});
    CHECK(std::abs(half_ball.at(159.9999999, 75).dz_dx) == Approx(kMaxSlope));
}

TEST_CASE("a bevel falls towards the outline and stays level beyond it", "[spray][relief]") {
    const Outline panel = Outline::rectangle(Millimetres{200}, Millimetres{150}, Millimetres{0});
    const Relief straight = relief_of(Bevel{panel, Millimetres{10}, Millimetres{4}});
    CHECK(straight.at(100, 75).height_mm == 0);
    CHECK(straight.at(2.5, 75).height_mm == Approx(-3));
    CHECK(straight.at(2.5, 75).dz_dx == Approx(0.4));
    CHECK(straight.at(100, 145).dz_dy == Approx(-0.4));
    CHECK(straight.at(-5, 75).height_mm == Approx(-4));
    CHECK(straight.at(-5, 75).dz_dx == 0);
    CHECK(straight.lowest_mm() == -4);
    check_slopes(straight, [](double x, double y) {
        const double in_x = std::min(x, 200 - x), in_y = std::min(y, 150 - y);
        const double in = std::min(in_x, in_y);
        return in > 0.01 && std::abs(in - 10) > 0.01 && std::abs(in_x - in_y) > 0.01;
    });
    const Relief arc = relief_of(Bevel{panel, Millimetres{10}, Millimetres{4}, BevelProfile::arc});
    const double R = (100 + 16) / 8.0;  // touches the top 10 from the rim, 4 lower at the rim
    for (const double in : {0.001, 1.0, 4.0, 9.9})
        CHECK(arc.at(in, 75).height_mm == Approx(std::sqrt(R * R - (10 - in) * (10 - in)) - R));
    CHECK(arc.at(1e-9, 75).height_mm == Approx(-4));
    CHECK(arc.curvature(5, 75, 0.1) == Approx(1 / (2 * R)).epsilon(1e-3));
    check_slopes(arc, [](double x, double y) {
        const double in_x = std::min(x, 200 - x), in_y = std::min(y, 150 - y);
        return std::min(in_x, in_y) > 0.01 && std::abs(in_x - in_y) > 0.01;
    });
    const Relief quarter = relief_of(Bevel{panel, Millimetres{5}, Millimetres{5}, BevelProfile::arc});
    CHECK(quarter.at(1e-7, 75).dz_dx == Approx(kMaxSlope));
}

TEST_CASE("a groove is a V of the stated depth and width", "[spray][relief]") {
    const Relief groove = relief_of(Groove{one_line(), Millimetres{4}, Millimetres{3}, Millimetres{0}});
    CHECK(groove.at(100, 75).height_mm == -3);
    CHECK(groove.at(100, 75).dz_dy == 0);  // sharp bottom
    CHECK(groove.at(100, 76).height_mm == Approx(-1.5));
    CHECK(groove.at(100, 76).dz_dy == Approx(1.5));
    CHECK(groove.at(100, 74).dz_dy == Approx(-1.5));
    CHECK(groove.at(100, 77).height_mm == 0);
    CHECK(groove.at(181, 75).height_mm == Approx(-1.5));  // round end
    CHECK(groove.at(10, 75).height_mm == 0);
    CHECK(groove.lowest_mm() == -3);
    check_slopes(relief_of(Groove{one_line(), Millimetres{80}, Millimetres{30}, Millimetres{0}}),
                 [](double x, double y) {
                     const double out = x < 20 ? 20 - x : x > 180 ? x - 180 : 0;
                     const double t = std::hypot(out, y - 75);
                     return t > 0.01 && std::abs(t - 40) > 0.01;
                 });
}

TEST_CASE("rounded shoulders touch the top and the side of a groove", "[spray][relief]") {
    const double half = 4, depth = 3, r = 2;  // sides 3-4-5
    const Relief groove =
        relief_of(Groove{one_line(), Millimetres{2 * half}, Millimetres{depth}, Millimetres{r}});
    const double tangent = r * std::tan(std::atan2(depth, half) / 2);
    const auto at = [&](double distance) { return groove.at(100, 75 + distance); };
    CHECK(at(0).height_mm == -3);
    CHECK(at(half + tangent).height_mm == 0);
    CHECK(at(half + tangent - 1e-4).height_mm == Approx(-1e-8 / (2 * r)).epsilon(1e-3));
    const double side = half - tangent * half / 5;
    CHECK(at(side + 1e-7).height_mm == Approx(-depth * (1 - side / half)).margin(1e-6));
    CHECK(at(side + 1e-7).dz_dy == Approx(depth / half).epsilon(1e-5));
    CHECK(at(half).height_mm < 0);
    check_slopes(
        relief_of(Groove{one_line(), Millimetres{60}, Millimetres{30}, Millimetres{20}}),
        [](double x, double y) {
            const double out = x < 20 ? 20 - x : x > 180 ? x - 180 : 0;
            return std::hypot(out, y - 75) > 0.01;
        },
        1e-5);
    CHECK(groove.curvature(100, 75 + half, 0.05) == Approx(1 / (2 * r)).epsilon(1e-2));
    CHECK(groove.curvature(100, 75, 0.05) < -1);  // the sharp bottom is concave
    // A radius too large for the groove takes the whole side, not more.
    const Relief blunt =
        relief_of(Groove{one_line(), Millimetres{2 * half}, Millimetres{depth}, Millimetres{500}});
    CHECK(blunt.at(100, 75).height_mm == Approx(-3));
    CHECK(blunt.at(100, 75 + half).height_mm < 0);
}

TEST_CASE("a groove follows the edge of an outline all round", "[spray][relief]") {
    const Outline inlay({{{50, 50}, {150, 50}, {150, 100}, {50, 100}}});
    const Relief groove =
        relief_of(Groove{PolylineSet(inlay), Millimetres{4}, Millimetres{3}, Millimetres{0}});
    for (const PlanePoint& c :
         {PlanePoint{100, 50}, PlanePoint{150, 70}, PlanePoint{100, 100}, PlanePoint{50, 60}})
        CHECK(groove.at(c.x_mm, c.y_mm).height_mm == -3);
    CHECK(groove.at(50, 51).height_mm == -3);
    CHECK(groove.at(100, 75).height_mm == 0);
    CHECK(groove.at(100, 49).height_mm == Approx(-1.5));
    CHECK(groove.at(100, 51).height_mm == Approx(-1.5));
}

TEST_CASE("a height map passes through its heights with continuous slopes", "[spray][relief]") {
    constexpr int columns = 20, rows = 15;  // cells of 10 mm
    std::vector<float> heights;
    for (int j = 0; j < rows; ++j)
        for (int i = 0; i < columns; ++i)
            heights.push_back(
                static_cast<float>(uniform01(2, 3, static_cast<std::uint64_t>(j * columns + i))));
    const HeightMap map(kBox, columns, rows, heights);
    const Relief relief = relief_of(map);
    for (int j = 0; j < rows; ++j)
        for (int i = 0; i < columns; ++i)
            CHECK(relief.at(10 * (i + 0.5), 10 * (j + 0.5)).height_mm ==
                  Approx(static_cast<double>(heights[static_cast<std::size_t>(j * columns + i)]))
                      .margin(1e-12));
    const auto within = [](double x, double y) { return x > 5.01 && x < 194.99 && y > 5.01 && y < 144.99; };
    check_slopes(relief, within);
    for (int i = 1; i + 1 < columns; ++i) {  // from cell to cell
        const double x = 10 * (i + 0.5);
        CHECK(relief.at(x - 1e-9, 62).dz_dx == Approx(relief.at(x + 1e-9, 62).dz_dx).margin(1e-7));
    }
    // Outside as on its edge.
    CHECK(relief.at(-50, 62).height_mm == relief.at(5, 62).height_mm);
    CHECK(relief.at(-50, 62).dz_dx == 0);
    for (double x = 0; x < 200; x += 0.7)
        for (double y = 0; y < 150; y += 0.7) {
            CHECK(relief.at(x, y).height_mm >= relief.lowest_mm());
            CHECK(relief.at(x, y).height_mm <= relief.highest_mm());
        }
}

TEST_CASE("a height map of a parabola is the parabola", "[spray][relief]") {
    // The cubic reproduces squares [keys1981].
    constexpr int columns = 40, rows = 30;
    const auto height = [](double x, double y) { return 0.001 * x * x - 0.002 * x * y + 0.1 * y; };
    std::vector<float> heights;
    for (int j = 0; j < rows; ++j)
        for (int i = 0; i < columns; ++i)
            heights.push_back(static_cast<float>(height(5 * (i + 0.5), 5 * (j + 0.5))));
    const Relief relief = relief_of(HeightMap(kBox, columns, rows, heights));
    for (double x = 10; x < 190; x += 3.3)
        for (double y = 10; y < 140; y += 3.7) {
            CHECK(relief.at(x, y).height_mm == Approx(height(x, y)).margin(1e-5));  // heights are floats
            CHECK(relief.at(x, y).dz_dx == Approx(0.002 * x - 0.002 * y).margin(1e-5));
        }
}

TEST_CASE("a map of a single cell or row is level where it has no neighbours", "[spray][relief]") {
    const Relief cell = relief_of(HeightMap(kBox, 1, 1, {7.5F}));
    CHECK(cell.at(33, 44).height_mm == 7.5);
    CHECK(cell.at(33, 44).dz_dx == 0);
    const Relief row = relief_of(HeightMap(kBox, 2, 1, {0.0F, 10.0F}));
    CHECK(row.at(100, 20).height_mm == Approx(5));
    CHECK(row.at(100, 20).dz_dy == 0);
    CHECK(row.at(100, 20).dz_dx > 0.1);
}

TEST_CASE("parts of a relief add up", "[spray][relief]") {
    const Cylinder cylinder{{100, 20}, Degrees{90}, Millimetres{300}};
    const Groove groove{one_line(), Millimetres{4}, Millimetres{3}, Millimetres{0}};
    const Relief both({cylinder, groove}, kBox);
    const SurfaceSample a = relief_of(cylinder).at(150, 76), b = relief_of(groove).at(150, 76),
                        sum = both.at(150, 76);
    CHECK(sum.height_mm == Approx(a.height_mm + b.height_mm));
    CHECK(sum.dz_dx == Approx(a.dz_dx + b.dz_dx));
    CHECK(sum.dz_dy == Approx(a.dz_dy + b.dz_dy));
    CHECK(both.lowest_mm() == Approx(relief_of(cylinder).lowest_mm() - 3));
    CHECK(both == Relief({cylinder, groove}, kBox));
    CHECK_FALSE(both == Relief({cylinder}, kBox));
}
