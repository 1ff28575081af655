#include "fadewright/assess/maps.h"

#include "fadewright/base/parallel.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace fadewright;

namespace {

std::string plan_with(const std::string& coats) {
    return R"(plan = 1
title = "t"
[panel]
width = "300 mm"
height = "200 mm"
corner_radius = "30 mm"
[view]
distance = "500 mm"
[mixes.m]
parts = { carbon-black = 1 }
)" + coats;
}

const std::string kOnePass = R"([[coats]]
name = "a"
mix = "m"
gun = "detail-gun-round"
[[coats.passes]]
path = [["-100 mm", "80 mm"], ["400 mm", "80 mm"]]
)";

}  // namespace

TEST_CASE("The film map equals the film", "[render]") {
    const plan::Job job = test::job_of(plan_with(kOnePass));
    const render::Frame frame = render::panel_frame(job.panel, 300, Millimetres{10.0});
    const assess::PanelMap map = assess::film_map(job, 0, frame);
    const double greatest = job.coats[0].film_um(150, 80);
    for (int y = 0; y < frame.height; y += 7)
        for (int x = 0; x < frame.width; x += 11) {
            const double at = *map.values.pixel(x, y);
            if (job.panel.inside(frame.x_mm(x), frame.y_mm(y))) {
                CHECK(at ==
                      Approx(job.coats[0].film_um(frame.x_mm(x), frame.y_mm(y))).margin(0.01 * greatest));
            } else {
                CHECK(at == -1);
            }
        }
    CHECK(map.max == Approx(greatest).epsilon(0.01));
    CHECK(map.max_y.value == Approx(80).margin(3));
    CHECK(map.max_x.value == Approx(150).margin(3));
    CHECK(map.mean < map.max);
}

TEST_CASE("The film map keeps the edges of masks", "[render]") {
    const plan::Job job = test::job_of(plan_with(R"([masks.left]
shape.corners = [["-10 mm", "-10 mm"], ["150 mm", "-10 mm"], ["150 mm", "210 mm"], ["-10 mm", "210 mm"]]
[[coats]]
name = "clear"
mix = "gloss-clear"
masks = ["left"]
even_coat.film = "40 um"
)"));
    const render::Frame frame = render::panel_frame(job.panel, 600, Millimetres{0.0});
    const assess::PanelMap map = assess::film_map(job, 0, frame);
    CHECK(*map.values.pixel(298, 200) == 0);
    CHECK(*map.values.pixel(301, 200) == 40);
    CHECK(map.max == Approx(40));
    CHECK(map.mean == Approx(20).epsilon(0.05));
}

TEST_CASE("Twice the resolution gives the same map", "[render]") {
    const plan::Job job = test::job_of(plan_with(kOnePass));
    const render::Frame coarse = render::panel_frame(job.panel, 150, Millimetres{0.0});
    const render::Frame fine = render::panel_frame(job.panel, 300, Millimetres{0.0});
    const assess::PanelMap a = assess::film_map(job, 0, coarse), b = assess::film_map(job, 0, fine);
    CHECK(a.max == b.max);
    CHECK(a.mean == b.mean);
    const double mean = (*b.values.pixel(150, 118) + *b.values.pixel(151, 118) + *b.values.pixel(150, 119) +
                         *b.values.pixel(151, 119)) /
                        4;
    CHECK(*a.values.pixel(75, 59) == Approx(mean).epsilon(0.01));
}

TEST_CASE("Graininess is where dots are, weaker from a distance, and none in wet coats", "[render]") {
    const std::string fog = [] {
        std::string text = kOnePass;
        text.insert(text.find("[[coats.passes]]"), "laydown = \"dots\"\n");
        return text;
    }();
    const plan::Job wet = test::job_of(plan_with(kOnePass));
    const render::Frame frame = render::panel_frame(wet.panel, 200, Millimetres{0.0});
    CHECK(assess::grain_map(wet, wet.light, frame).max == 0);
    plan::Job dots = test::job_of(plan_with(fog));
    const assess::PanelMap near = assess::grain_map(dots, dots.light, frame);
    CHECK(near.max > 0.3);
    CHECK(*near.values.pixel(100, 5) < 0.01 * near.max);  // beyond the pass
    dots.view_distance = Millimetres{1000.0};
    CHECK(assess::grain_map(dots, dots.light, frame).max == Approx(near.max / 2).epsilon(1e-6));
}

TEST_CASE("Maps do not depend on the number of threads", "[render]") {
    const plan::Job job = test::job_of_file("presets/plans/fog-distances.toml");
    const render::Frame frame = render::panel_frame(job.panel, 160, Millimetres{5.0});
    const auto with = [&](int threads) {
        const ThreadLimit limit(threads);
        return assess::grain_map(job, job.light, frame).values;
    };
    CHECK(with(1) == with(2));
}

TEST_CASE("Pass lines follow points, arcs, curves and spots", "[render]") {
    const plan::Job job = test::job_of(plan_with(R"([[coats]]
name = "base"
mix = "m"
even_coat.film = "10 um"
[[coats]]
name = "a"
mix = "m"
gun = "detail-gun-round"
[[coats.passes]]
path = [["0 mm", "10 mm"], ["100 mm", "10 mm"]]
repeats = 3
[[coats.passes]]
arc = { centre = ["100 mm", "100 mm"], radius = "50 mm", from = "0 deg", to = "90 deg" }
distance = "240 mm"
[[coats.passes]]
path = [["0 mm", "0 mm"], ["50 mm", "40 mm"], ["100 mm", "0 mm"]]
smooth = true
[[coats.passes]]
path = [["60 mm", "70 mm"]]
dwell = "1 s"
)"));
    const auto lines = assess::pass_lines(job);
    REQUIRE(lines.size() == 4);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        CHECK(lines[i].coat == 1);
        CHECK(lines[i].number == static_cast<int>(i) + 1);
        CHECK(lines[i].spot == (i == 3));
    }
    CHECK(lines[0].repeats == 3);
    CHECK(lines[0].width_mm == Approx(4 * 14));                 // four sigma of the gun
    CHECK(lines[1].width_mm == Approx(2 * lines[0].width_mm));  // twice the distance
    for (std::size_t i = 0; i < lines[1].x_mm.size(); ++i)
        CHECK(std::hypot(lines[1].x_mm[i] - 100, lines[1].y_mm[i] - 100) == Approx(50).margin(0.1));
    CHECK(lines[1].x_mm.front() == Approx(150));
    CHECK(lines[1].y_mm.back() == Approx(150));
    CHECK(lines[2].x_mm.size() > 5);
    CHECK(lines[3].x_mm == std::vector<double>{60});
}
