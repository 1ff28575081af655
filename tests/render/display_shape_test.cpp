#include "fadewright/render/display_shape.h"

#include "preset_library.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using render::DisplayShape;

namespace {

plan::Job plain_job() {
    return test::job_of(
        "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\nground = \"black-sealer\"\n"
        "[[coats]]\nname = \"pearl\"\nmix = \"pearl-white\"\neven_coat.film = \"20 um\"\n");
}

}  // namespace

TEST_CASE("a display shape has the films of the panel and its own surface", "[render][form]") {
    const plan::Job job = plain_job();
    CHECK(render::with_shape(job, DisplayShape::panel).panel == job.panel);
    for (const DisplayShape shape : {DisplayShape::dome, DisplayShape::cylinder, DisplayShape::speed_shape}) {
        const plan::Job shaped_job = render::with_shape(job, shape);
        CHECK(shaped_job.coats.at(0).film_um(150, 100) == job.coats.at(0).film_um(150, 100));
        REQUIRE(shaped_job.panel.relief);
        CHECK(shaped_job.panel.inside(150, 100));
        CHECK(shaped_job.panel.area_m2() <= job.panel.area_m2() * (1 + 1e-12));
    }
    CHECK(render::with_shape(job, DisplayShape::dome).panel.area_m2() ==
          Approx(3.14159265 * 0.1 * 0.1).epsilon(1e-4));
}

// A convex surface: it falls from the centre outwards in every direction.
TEST_CASE("display shapes slope down from their centre to the edge", "[render][form]") {
    const plan::Job job = plain_job();
    for (const DisplayShape shape : {DisplayShape::dome, DisplayShape::cylinder, DisplayShape::speed_shape}) {
        const spray::Panel panel = render::with_shape(job, shape).panel;
        const double x = shape == DisplayShape::speed_shape ? 100 : 150;
        CHECK(std::abs(panel.surface(x, 100).dz_dy) < 0.02);
        CHECK(panel.surface(x, 140).dz_dy < -0.1);
        CHECK(panel.surface(x, 60).dz_dy > 0.1);
        CHECK(panel.surface(x, 140).height_mm == Approx(panel.surface(x, 60).height_mm).epsilon(1e-3));
    }
}

TEST_CASE("the speed shape is round at its nose and pointed at its tail", "[render][form]") {
    const spray::Panel panel = render::with_shape(plain_job(), DisplayShape::speed_shape).panel;
    const auto half_height = [&](double x) {
        double y = 100;
        while (panel.inside(x, y)) y += 0.1;
        return y - 100;
    };
    CHECK(half_height(100) == Approx(62.5).margin(0.3));  // 300 / 2.4 / 2, a third of the way
    CHECK(half_height(5) == Approx(20.6).margin(0.3));    // 62.5 sqrt(1/60) (59/60) / 0.3849
    CHECK(half_height(295) < 4);
}
