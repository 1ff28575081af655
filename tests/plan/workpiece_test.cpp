// Workpieces of plans: outlines, masks, regions, relief, outline passes.
#include "fadewright/spray/panel.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using test::job_of;

namespace {

const std::string kBoard = "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n";

std::string coat_toml(const std::string& more) {
    return "[[coats]]\nname = \"one\"\nmix = \"carbon-black\"\ngun = \"detail-gun-round\"\n" + more;
}

constexpr const char* kLevel =
    "[[coats.passes]]\npath = [[\"-80 mm\", \"100 mm\"], [\"380 mm\", \"100 mm\"]]\n";

}  // namespace

TEST_CASE("an outline from a drawing gives the panel its size, area and edge", "[plan]") {
    const plan::Job job =
        job_of("plan = 1\n[panel]\noutline = { drawing = \"hills.svg\", part = \"moon\" }\n");
    CHECK(job.panel.width.value == Approx(480));
    CHECK(job.panel.height.value == Approx(320));
    CHECK(job.panel.area_m2() * 1e6 == Approx(3.14159265 * 30 * 30).epsilon(2e-3));
    CHECK(job.panel.inside(352, 320 - 66));
    CHECK_FALSE(job.panel.inside(300, 320 - 66));
    CHECK(job.panel.signed_distance_mm(352, 320 - 66) == Approx(-30).margin(0.1));
}

TEST_CASE("a taped mask stops all paint, one held off passes half at its edge", "[plan]") {
    const std::string mask =
        "[masks.left]\nshape = { corners = [[\"0 mm\", \"-10 mm\"], [\"150 mm\", \"-10 mm\"], "
        "[\"150 mm\", \"210 mm\"], [\"0 mm\", \"210 mm\"]] }\n";
    const plan::Job bare = job_of(kBoard + coat_toml(kLevel));
    const plan::Job taped = job_of(kBoard + mask + coat_toml("masks = [\"left\"]\n" + std::string(kLevel)));
    const plan::Job lifted =
        job_of(kBoard + mask + "gap = \"20 mm\"\n" + coat_toml("masks = [\"left\"]\n" + std::string(kLevel)));
    const double full = bare.coats[0].film_um(150, 100);
    CHECK(taped.coats[0].film_um(149, 100) == 0);
    CHECK(taped.coats[0].film_um(151, 100) == Approx(full));
    CHECK(lifted.coats[0].film_um(150, 100) == Approx(full / 2).epsilon(1e-6));
    // sigma 14 mm at 120 mm, held off 20 mm: s = 20 x 14/120 = 2.33 mm; at one s the share is Phi(1) = .8413.
    CHECK(lifted.coats[0].film_um(150 + 20 * 14.0 / 120, 100) == Approx(0.8413 * full).epsilon(1e-3));
    CHECK(taped.edges.size() == 1);
    CHECK(taped.edges[0].distance_mm(140, 50) == Approx(10));
}

TEST_CASE("a mask that covers the outside is a stencil", "[plan]") {
    const std::string stencil =
        "[masks.hole]\ncovers = \"outside\"\nshape = { corners = [[\"100 mm\", \"50 mm\"], "
        "[\"200 mm\", \"50 mm\"], [\"200 mm\", \"150 mm\"], [\"100 mm\", \"150 mm\"]] }\n";
    const plan::Job job = job_of(kBoard + stencil + coat_toml("masks = [\"hole\"]\n" + std::string(kLevel)));
    CHECK(job.coats[0].film_um(150, 100) > 0);
    CHECK(job.coats[0].film_um(250, 100) == 0);
}

TEST_CASE("a region has its own ground, and the last one counts", "[plan]") {
    const plan::Job job =
        job_of(kBoard +
               "[[panel.regions]]\nground = \"black-sealer\"\nshape = { corners = [[\"0 mm\", \"0 mm\"], "
               "[\"100 mm\", \"0 mm\"], [\"100 mm\", \"100 mm\"], [\"0 mm\", \"100 mm\"]] }\n"
               "[[panel.regions]]\nground = \"white-primer\"\nshape = { corners = [[\"50 mm\", \"0 mm\"], "
               "[\"100 mm\", \"0 mm\"], [\"100 mm\", \"100 mm\"], [\"50 mm\", \"100 mm\"]] }\n");
    REQUIRE(job.regions.size() == 2);
    CHECK(job.regions[0].outline.inside(20, 20));
    CHECK(job.regions[0].ground[17] < 0.05);
    CHECK(job.regions[1].ground[17] > 0.6);
}

TEST_CASE("an outline pass keeps its offset on all sides", "[plan]") {
    const plan::Job job = job_of(
        "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\ncorner_radius = \"30 mm\"\n" +
        coat_toml(
            "[[coats.outline_passes]]\noffset = \"-25 mm\"\n[[coats.outline_passes]]\noffset = \"15 mm\"\n"));
    REQUIRE(job.coats[0].passes.size() == 2);
    const double offsets[2] = {-25, 15};
    for (std::size_t p = 0; p < 2; ++p) {
        const auto& points = job.coats[0].passes[p].points;
        REQUIRE(points.size() > 8);
        CHECK(points.front() == points.back());
        double reversed = 0;
        for (std::size_t i = 0; i + 1 < points.size(); ++i) {
            CHECK(job.panel.signed_distance_mm(points[i].x.value, points[i].y.value) ==
                  Approx(offsets[p]).margin(0.15));
            reversed += points[i].x.value * points[i + 1].y.value - points[i + 1].x.value * points[i].y.value;
        }
        CHECK(reversed > 0);  // counterclockwise
    }
}

TEST_CASE("a path offset to its left keeps its distance", "[plan]") {
    const plan::Job job = job_of(
        kBoard +
        coat_toml("[[coats.outline_passes]]\noffset = \"10 mm\"\n"
                  "path = [[\"0 mm\", \"50 mm\"], [\"100 mm\", \"50 mm\"], [\"100 mm\", \"150 mm\"]]\n"));
    const auto& points = job.coats[0].passes.at(0).points;
    REQUIRE(points.size() == 3);
    CHECK(points[0] == geometry::Point{Millimetres{0}, Millimetres{60}});
    CHECK(points[1].x.value == Approx(90));
    CHECK(points[1].y.value == Approx(60));
    CHECK(points[2].x.value == Approx(90));
}

TEST_CASE("speeds along a path are kept beside it", "[plan]") {
    const std::string path =
        "path = [[\"0 mm\", \"50 mm\"], [\"100 mm\", \"50 mm\"], [\"100 mm\", \"150 mm\"]]\n"
        "speeds = [\"100 mm/s\", \"200 mm/s\", \"300 mm/s\"]\n";
    for (const char* offset : {"10 mm", "-10 mm"}) {
        const plan::Job job = job_of(kBoard + coat_toml("[[coats.outline_passes]]\noffset = \"" +
                                                        std::string(offset) + "\"\n" + path));
        const spray::Pass& pass = job.coats[0].passes.at(0);
        REQUIRE(pass.speeds.size() == pass.points.size());
        CHECK(pass.speeds.front().value == Approx(100));
        CHECK(pass.speeds.back().value == Approx(300));
        for (const MillimetresPerSecond& speed : pass.speeds)
            CHECK((speed.value >= 100 && speed.value <= 300.001));
    }
}

TEST_CASE("a path offset to the inner side of a tight turn has no loop", "[plan]") {
    // A bump 10 mm wide: 30 mm from it only a notch between two arcs is left.
    const plan::Job job = job_of(
        kBoard +
        coat_toml(
            "[[coats.outline_passes]]\noffset = \"-30 mm\"\npath = [[\"0 mm\", \"100 mm\"], [\"100 mm\", "
            "\"100 mm\"], [\"105 mm\", \"110 mm\"], [\"110 mm\", \"100 mm\"], [\"250 mm\", \"100 mm\"]]\n"));
    REQUIRE(job.coats[0].passes.size() == 1);
    const auto& points = job.coats[0].passes[0].points;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) CHECK(points[i].x < points[i + 1].x);
}

TEST_CASE("crossing grooves of one size are not deeper", "[plan]") {
    const std::string groove = "[[panel.relief]]\nkind = \"groove\"\nwidth = \"20 mm\"\ndepth = \"8 mm\"\n";
    const plan::Job job =
        job_of(kBoard + groove + "line = [[\"50 mm\", \"100 mm\"], [\"250 mm\", \"100 mm\"]]\n" + groove +
               "line = [[\"150 mm\", \"20 mm\"], [\"150 mm\", \"180 mm\"]]\n");
    CHECK(job.panel.surface(80, 100).height_mm == Approx(-8));
    CHECK(job.panel.surface(150, 100).height_mm == Approx(-8));
    CHECK(job.panel.surface(80, 105).height_mm == Approx(-4));
    CHECK(job.panel.surface(80, 130).height_mm == Approx(0).margin(1e-12));
}

TEST_CASE("a pass leaves less film on a bevel", "[plan]") {
    const std::string bevel = "[[panel.relief]]\nkind = \"bevel\"\nwidth = \"40 mm\"\ndepth = \"40 mm\"\n";
    const plan::Job flat = job_of(kBoard + coat_toml(kLevel)),
                    with_bevel = job_of(kBoard + bevel + coat_toml(kLevel));
    const double share = with_bevel.coats[0].film_um(20, 100) / flat.coats[0].film_um(20, 100);
    // Halfway down a slope of 45 degrees, 20 mm further away: about 1/sqrt 2 x 120/140.
    CHECK(share == Approx(120.0 / 140 / std::sqrt(2.0)).epsilon(0.08));
    CHECK(with_bevel.coats[0].film_um(150, 100) == Approx(flat.coats[0].film_um(150, 100)).epsilon(1e-3));
}

TEST_CASE("needle opening and air apply to the gun of the coat", "[plan]") {
    const plan::Job plain = job_of(kBoard + coat_toml(kLevel));
    const plan::Job set =
        job_of(kBoard + coat_toml("needle_opening = \"50 %\"\nair = \"1.8 bar\"\n" + std::string(kLevel)));
    CHECK(set.coats[0].gun->flow.value == Approx(0.75 * plain.coats[0].gun->flow.value));
    CHECK(set.coats[0].gun->ring.value == Approx(2.0 / 3));
    CHECK(set.coats[0].film_um(150, 100) < plain.coats[0].film_um(150, 100));
}

TEST_CASE("the liquid of a coat comes from its mix", "[plan]") {
    const plan::Job job =
        job_of(kBoard +
               "[mixes.ink]\nparts = { carbon-black = 1 }\nreduce = \"100 %\"\nflow_cup = \"14 s\"\n"
               "[[coats]]\nname = \"one\"\nmix = \"ink\"\ngun = \"detail-gun-round\"\n" +
               kLevel);
    const plan::SprayableMix& liquid = job.coats[0].liquid;
    CHECK(liquid.flow_cup_given);
    CHECK(liquid.solids.value == Approx(job.coats[0].mix.solids.value));
    // DIN cup of 4 mm: 14 s is 31.7 mm2/s. Source: [din53211].
    CHECK(liquid.paint.viscosity_mPa_s == Approx(31.7 * liquid.paint.density.value).epsilon(2e-3));
    CHECK(liquid.evaporation > 0);
}
