#include "fadewright/render/viewing.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace fadewright;
using render::Direction;
using render::Lighting;
using render::Viewing;

namespace {

double all_light(const Viewing& viewing, const spray::Slope& slope) {
    const Lighting lit = render::lighting(viewing, slope);
    return lit.ambient + lit.beam;
}

double degrees(double cosine) { return std::acos(cosine) * 180 / std::numbers::pi; }

}  // namespace

TEST_CASE("a flat place counts as lit by one, a place turned from the lamp as less", "[render][viewing]") {
    const Viewing viewing = render::on_body();
    CHECK(all_light(viewing, {}) == Approx(1).epsilon(1e-15));
    spray::Slope to_lamp, from_lamp;
    to_lamp.dz_dx = 0.4;   // rises to the right: faces left
    to_lamp.dz_dy = -0.5;  // falls upwards: faces up
    from_lamp.dz_dx = -0.4;
    from_lamp.dz_dy = 0.5;
    CHECK(all_light(viewing, to_lamp) > 1.02);
    CHECK(all_light(viewing, from_lamp) < 0.85);
}

// ASTM E2194 (from memory): light at 45 degrees; the aspecular angle counts from the mirror direction towards the
// normal, so that 45 is straight on and 110 lies 65 degrees from the normal on the light's own side.
TEST_CASE("the eye stands at the aspecular angle from the mirror direction", "[render][viewing]") {
    const Direction mirror{0, -std::sqrt(0.5), std::sqrt(0.5)};
    for (const double angle : {-15.0, 15.0, 25.0, 45.0, 75.0, 110.0}) {
        const Viewing viewing = render::instrument(Degrees{angle});
        CHECK(degrees(viewing.light.z) == Approx(45));
        CHECK(degrees(film::dot(viewing.eye, mirror)) == Approx(std::abs(angle)));
        CHECK(degrees(viewing.eye.z) == Approx(std::abs(angle - 45)).margin(1e-5));
    }
    CHECK(render::instrument(Degrees{110}).eye.y > 0);
    CHECK(render::instrument(Degrees{15}).eye.y < 0);
}

TEST_CASE("turning a body does not change the angle between lamp and eye", "[render][viewing]") {
    const Viewing still = render::on_body();
    for (const double tilt : {-40.0, -5.0, 12.0, 70.0}) {
        const Viewing turned = render::on_body(Degrees{tilt});
        CHECK(film::dot(turned.light, turned.eye) == Approx(film::dot(still.light, still.eye)));
        CHECK(degrees(turned.eye.z) == Approx(std::abs(tilt)));
        CHECK(turned.light.x * turned.light.x + turned.light.y * turned.light.y +
                  turned.light.z * turned.light.z ==
              Approx(1));
    }
}

TEST_CASE("the lamp shows most where the surface mirrors it into the eye", "[render][viewing]") {
    const Viewing viewing = render::on_body();
    // Halfway between lamp and eye.
    const Direction half{viewing.light.x, viewing.light.y, viewing.light.z + 1};
    spray::Slope mirroring;
    mirroring.dz_dx = -half.x / half.z;
    mirroring.dz_dy = -half.y / half.z;
    const double there = render::lighting(viewing, mirroring).shine;
    CHECK(there > 0.2);
    for (const double off : {-0.2, 0.2}) {
        spray::Slope beside = mirroring;
        beside.dz_dx += off;
        CHECK(render::lighting(viewing, beside).shine < 0.4 * there);
    }
}
