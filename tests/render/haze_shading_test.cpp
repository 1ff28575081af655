// A hazy clear in a whole job.
#include "fadewright/film/surface.h"
#include "fadewright/render/panel_shader.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <string>

using namespace fadewright;
using Catch::Matchers::WithinAbs;

namespace {

plan::Job black_under(const std::string& clear, double haze) {
    plan::Job job = test::job_of(
        "plan = 1\n[panel]\nwidth = \"120 mm\"\nheight = \"80 mm\"\nground = \"black-sealer\"\n"
        "[[coats]]\nname = \"black\"\nmix = \"carbon-black\"\neven_coat.film = \"30 um\"\n"
        "[[coats]]\nname = \"clear\"\nmix = \"" +
        clear + "\"\neven_coat.film = \"50 um\"\n");
    job.coats.back().mix.haze = Share{haze};
    return job;
}

// At the centre of the spectrum.
double mid_reflectance(const plan::Job& job, const render::Viewing& viewing) {
    return render::PanelShader(job, job.light, job.coats.size(), viewing).reflectance(60, 40)[17];
}

double added_by_haze(const std::string& clear, double haze, const render::Viewing& viewing) {
    return mid_reflectance(black_under(clear, haze), viewing) -
           mid_reflectance(black_under(clear, 0), viewing);
}

}  // namespace

TEST_CASE("haze lightens black near the mirror direction and not face on", "[render][haze]") {
    const auto lift = [](double aspecular) {
        return added_by_haze("gloss-clear", 0.1, render::goniometer_viewing(Degrees{aspecular}));
    };
    CHECK(lift(5) > lift(10));
    CHECK(lift(10) > lift(15));
    CHECK(lift(15) > 1e-3);
    CHECK_THAT(lift(45), WithinAbs(0, 1e-12));
    const double factor =
        film::haze_factor({}, Degrees{45}, Degrees{15}, std::sqrt(0.75));  // eye at 30 degrees
    CHECK(lift(15) == Approx(0.1 * factor).epsilon(1e-6));
}

TEST_CASE("in a room haze greys black slightly, by a share of the surface reflection", "[render][haze]") {
    render::Viewing room = render::shape_viewing();
    room.shows_lamp = false;  // viewed off the reflection of the lamp
    const double lift = added_by_haze("gloss-clear", 0.2, room);
    const render::Lighting flat = render::lighting(room, {});
    const double k1 = film::surface_at_normal({}).k1;
    CHECK(lift >= 0.2 * flat.ambient * k1);
    CHECK(lift <= 0.2 * k1);
    CHECK(added_by_haze("gloss-clear", 0.4, room) == Approx(2 * lift));
}

// The more of the reflection is scattered, the less is left in the mirror image.
TEST_CASE("haze reduces the reflection of the lamp by the scattered part", "[render][haze]") {
    render::Viewing mirror = render::shape_viewing();
    mirror.eye_direction = {-mirror.light_direction.x, -mirror.light_direction.y, mirror.light_direction.z};
    CHECK(added_by_haze("gloss-clear", 0.2, mirror) < 0);
    mirror.shows_lamp = false;
    CHECK(added_by_haze("gloss-clear", 0.2, mirror) > 0);
}

TEST_CASE("a dead matt surface has no mirror image for haze to scatter", "[render][haze]") {
    plan::Job flawless = black_under("gloss-clear", 0), hazy = black_under("gloss-clear", 0.5);
    flawless.surface = hazy.surface = plan::Surface::matt;
    const render::Viewing near = render::goniometer_viewing(Degrees{5});
    CHECK(mid_reflectance(hazy, near) == mid_reflectance(flawless, near));
    // A flatted clear keeps a tenth of its mirror reflection, and haze is a share of that.
    CHECK(added_by_haze("matt-clear", 0.5, near) ==
          Approx(0.1 * added_by_haze("gloss-clear", 0.5, near)).epsilon(1e-6));
}
