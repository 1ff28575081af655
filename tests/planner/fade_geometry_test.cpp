// The coordinate across a fade, and the lines of its passes.
#include "fade_geometry.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using namespace fadewright::plan;
using namespace fadewright::planner;

namespace {

Point at(double x, double y) { return {Millimetres{x}, Millimetres{y}}; }

const geometry::Outline kPanel = geometry::Outline::rectangle(Millimetres{400}, Millimetres{600}, {});
const Coat kCoat;
const MovementDefaults kDefaults{MillimetresPerSecond{300}, &kCoat};

}  // namespace

TEST_CASE("between two points u runs from the first to the second, 0 halfway", "[plan][fade]") {
    Fade fade;
    fade.start = at(200, 200);
    fade.end = at(200, 440);
    const FadeGeometry geometry(fade, kPanel, nullptr);
    CHECK(geometry.width_mm() == Approx(240));
    CHECK(geometry.u_mm(200, 320) == Approx(0).margin(1e-9));
    CHECK(geometry.u_mm(10, 440) == Approx(120));
    CHECK(geometry.u_mm(390, 200) == Approx(-120));
    CHECK(geometry.min_u_mm() == Approx(-320));
    CHECK(geometry.max_u_mm() == Approx(280));
    for (const FadeSample& sample : geometry.samples(50)) {
        CHECK(sample.x_mm == Approx(200));
        CHECK(geometry.u_mm(sample.x_mm, sample.y_mm) == Approx(sample.u_mm).margin(1e-9));
    }
}

TEST_CASE("along a path u is the distance to its left", "[plan][fade]") {
    Fade fade;
    fade.path = {at(100, 0), at(100, 300), at(300, 300)};
    fade.width = Millimetres{80};
    const FadeGeometry geometry(fade, kPanel, nullptr);
    CHECK(geometry.width_mm() == 80);
    CHECK(geometry.u_mm(60, 100) == Approx(40));
    CHECK(geometry.u_mm(130, 100) == Approx(-30));
    CHECK(geometry.u_mm(250, 350) == Approx(50));
    CHECK(geometry.u_mm(100, 150) == Approx(0).margin(1e-9));
}

TEST_CASE("around an edge u grows outwards, or inwards for a fade with its end inside", "[plan][fade]") {
    Fade fade;
    fade.inward = Millimetres{60};
    fade.width = Millimetres{40};
    const FadeGeometry outwards(fade, kPanel, &kPanel);
    CHECK(outwards.u_mm(60, 300) == Approx(0).margin(1e-6));
    CHECK(outwards.u_mm(20, 300) == Approx(40));
    CHECK(outwards.u_mm(100, 300) == Approx(-40));
    fade.inside = true;
    const FadeGeometry inwards(fade, kPanel, &kPanel);
    CHECK(inwards.u_mm(20, 300) == Approx(-40));
}

TEST_CASE("lines lie at their u, cover the panel and change direction", "[plan][fade]") {
    Fade fade;
    fade.start = at(200, 200);
    fade.end = at(200, 440);
    const FadeGeometry geometry(fade, kPanel, nullptr);
    const Reach reach{50, 40};
    const auto forward = geometry.line_at(30, false, reach, {}, kDefaults);
    const auto backward = geometry.line_at(30, true, reach, {}, kDefaults);
    REQUIRE(forward);
    REQUIRE(backward);
    const auto& pass = std::get<Pass>(forward->movement);
    const auto& reversed = std::get<Pass>(backward->movement);
    REQUIRE(pass.path.size() == 2);
    CHECK(pass.path.front() == reversed.path.back());
    CHECK(pass.path.back() == reversed.path.front());
    for (const Point& p : pass.path) CHECK(geometry.u_mm(p.x.value, p.y.value) == Approx(30));
    const auto [left, right] = std::minmax(pass.path[0].x.value, pass.path[1].x.value);
    CHECK(left <= -40);
    CHECK(right >= 440);
    CHECK_FALSE(geometry.line_at(1000, false, reach, {}, kDefaults));
}
