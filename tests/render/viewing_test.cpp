#include "fadewright/render/viewing.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace fadewright;
using render::Direction;
using render::Lighting;
using render::Viewing;

namespace {

double total_light(const Viewing& viewing, const spray::SurfaceSample& slope) {
    const Lighting at_slope = render::lighting(viewing, slope);
    return at_slope.ambient + at_slope.beam;
}

double degrees(double cosine) { return std::acos(cosine) * 180 / std::numbers::pi; }

}  // namespace

TEST_CASE("a flat point has the lighting 1, a point turned away from the lamp less", "[render][viewing]") {
    const Viewing viewing = render::shape_viewing();
    CHECK(total_light(viewing, {}) == Approx(1).epsilon(1e-15));
    spray::SurfaceSample to_lamp, from_lamp;
    to_lamp.dz_dx = 0.4;   // rises to the right: faces left
    to_lamp.dz_dy = -0.5;  // falls upwards: faces up
    from_lamp.dz_dx = -0.4;
    from_lamp.dz_dy = 0.5;
    CHECK(total_light(viewing, to_lamp) > 1.02);
    CHECK(total_light(viewing, from_lamp) < 0.85);
}

// Light at 45 degrees; the aspecular angle counts from the mirror direction towards the normal, so that 45 is
// face on and 110 is 65 degrees from the normal on the light's own side. Source: [astmE2194].
TEST_CASE("the eye is at the aspecular angle from the mirror direction", "[render][viewing]") {
    const Direction mirror{0, -std::sqrt(0.5), std::sqrt(0.5)};
    for (const double angle : {-15.0, 15.0, 25.0, 45.0, 75.0, 110.0}) {
        const Viewing viewing = render::goniometer_viewing(Degrees{angle});
        CHECK(degrees(viewing.light_direction.z) == Approx(45));
        CHECK(degrees(film::dot(viewing.eye_direction, mirror)) == Approx(std::abs(angle)));
        CHECK(degrees(viewing.eye_direction.z) == Approx(std::abs(angle - 45)).margin(1e-5));
    }
    CHECK(render::goniometer_viewing(Degrees{110}).eye_direction.y > 0);
    CHECK(render::goniometer_viewing(Degrees{15}).eye_direction.y < 0);
}

TEST_CASE("rotating a body does not change the angle between lamp and eye", "[render][viewing]") {
    const Viewing untilted = render::shape_viewing();
    for (const double tilt : {-40.0, -5.0, 12.0, 70.0}) {
        const Viewing tilted = render::shape_viewing(Degrees{tilt});
        CHECK(film::dot(tilted.light_direction, tilted.eye_direction) ==
              Approx(film::dot(untilted.light_direction, untilted.eye_direction)));
        CHECK(degrees(tilted.eye_direction.z) == Approx(std::abs(tilt)));
        CHECK(tilted.light_direction.x * tilted.light_direction.x +
                  tilted.light_direction.y * tilted.light_direction.y +
                  tilted.light_direction.z * tilted.light_direction.z ==
              Approx(1));
    }
}

TEST_CASE("the lamp shows most where the surface reflects it to the eye", "[render][viewing]") {
    const Viewing viewing = render::shape_viewing();
    // Halfway between lamp and eye.
    const Direction half{viewing.light_direction.x, viewing.light_direction.y, viewing.light_direction.z + 1};
    spray::SurfaceSample mirror_slope;
    mirror_slope.dz_dx = -half.x / half.z;
    mirror_slope.dz_dy = -half.y / half.z;
    const double peak = render::lighting(viewing, mirror_slope).lamp_reflection;
    CHECK(peak > 0.2);
    for (const double off : {-0.2, 0.2}) {
        spray::SurfaceSample nearby = mirror_slope;
        nearby.dz_dx += off;
        CHECK(render::lighting(viewing, nearby).lamp_reflection < 0.4 * peak);
    }
}
