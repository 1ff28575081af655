#include "fadewright/film/flake_geometry.h"

#include "published_table.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;

namespace {

double degrees(double cosine) { return std::acos(cosine) * 180 / std::numbers::pi; }

}  // namespace

TEST_CASE("flakes reflect at the angles of the table", "[film][published]") {
    for (const auto& row : test::published_rows("flake_geometry.csv")) {
        const Degrees view = aspecular_view(Degrees{45}, Degrees{row.number("aspecular_deg")});
        CHECK(view.value == row.number("view_from_normal_deg"));
        const FlakeGeometry g = flake_geometry(light_direction(Degrees{45}), view_direction(view));
        CAPTURE(view.value);
        // Half of the last printed place; a cosine near 1 keeps an angle to 1e-6 only. Signs are those of
        // the plane.
        CHECK_THAT(degrees(g.cos_view), WithinAbs(std::abs(row.number("view_in_binder_deg")), 5.1e-5));
        CHECK_THAT(degrees(g.cos_tilt), WithinAbs(std::abs(row.number("flake_tilt_deg")), 5.1e-5));
        CHECK_THAT(degrees(g.cos_incidence),
                   WithinAbs(std::abs(row.number("incidence_on_flake_deg")), 5.1e-5));
        CHECK_THAT(g.transmission_in, WithinAbs(row.number("Fresnel_T_in"), 5.1e-6));
        CHECK_THAT(g.transmission_out, WithinAbs(row.number("Fresnel_T_out"), 5.1e-6));
        CHECK_THAT(degrees(g.cos_light), WithinAbs(28.1255, 5.1e-5));
    }
}

TEST_CASE("light and view may be exchanged, and the scene may be rotated", "[film][property]") {
    const Direction a{0.36, -0.48, 0.8}, b{-0.6, 0.48, 0.64};
    const FlakeGeometry forward = flake_geometry(a, b), back = flake_geometry(b, a);
    CHECK(forward.cos_tilt == back.cos_tilt);
    CHECK(forward.cos_incidence == back.cos_incidence);
    CHECK(forward.transmission_in == back.transmission_out);
    const FlakeGeometry rotated = flake_geometry({0.48, 0.36, 0.8}, {-0.48, -0.6, 0.64});
    CHECK_THAT(rotated.cos_tilt, WithinAbs(forward.cos_tilt, 1e-15));
    CHECK_THAT(rotated.cos_incidence, WithinAbs(forward.cos_incidence, 1e-15));
}

TEST_CASE("the mirror direction needs a flat flake", "[film]") {
    const FlakeGeometry g = flake_geometry(light_direction(Degrees{60}), view_direction(Degrees{60}));
    CHECK_THAT(g.cos_tilt, WithinAbs(1, 1e-15));
    CHECK_THAT(g.cos_incidence, WithinAbs(g.cos_light, 1e-15));
}

TEST_CASE("below the surface there is no transmission", "[film]") {
    CHECK(flake_geometry({1, 0, 0}, {0, 0, 1}).transmission_in == 0);
    CHECK(flake_geometry({0, 0, 1}, {0.6, 0, -0.8}).transmission_out == 0);
}

TEST_CASE("the density of normals integrates to 1", "[film]") {
    for (const double tilt : {2.0, 6.0, 15.0, 30.0}) {
        const double s = std::tan(tilt * std::numbers::pi / 180);
        // Midpoint rule in the angle of tilt.
        constexpr int steps = 100000;
        double sum = 0, slope2 = 0;
        for (int i = 0; i < steps; ++i) {
            const double beta = (i + 0.5) / steps * std::numbers::pi / 2;
            const double weight = normal_density(std::cos(beta), s * s) * std::cos(beta) * 2 *
                                  std::numbers::pi * std::sin(beta) * std::numbers::pi / 2 / steps;
            sum += weight;
            slope2 += weight * std::tan(beta) * std::tan(beta) / 2;
        }
        CHECK_THAT(sum, WithinAbs(1, 1e-6));
        CHECK_THAT(std::sqrt(slope2), WithinAbs(s, 1e-5));  // one of the two slopes
    }
    CHECK(normal_density(0, 0.01) == 0);
    CHECK(normal_density(-0.1, 0) == 0);
}
