// How light, a flake and an eye must stand to each other for the flake to glint.
//
// Light bends on its way through the skin, meets a flake somewhere in the binder and bends again on its way
// out. One flake position alone mirrors it to the eye: that whose normal halves the angle between both ways
// in the binder.
//
//     d_b      a direction in the binder: its part along the skin is that in air over n, it points up
//     h        (light_b + view_b) / length: the normal of a flake that glints
//     tilt     angle of h from the film's normal; incidence: angle between h and light_b
//     density  of normals at h:  D = exp(-tan^2 tilt / (2 s^2)) / (2 pi s^2 cos^4 tilt); the integral of
//              D cos tilt is 1
//     F        (1 - Fresnel) on the way in and on the way out
//
// In the plane of light and normal, angles of view are counted positive on the side away from the light,
// and the aspecular angle from the mirror direction towards the normal: view = illumination - aspecular.
//
// Symbols    s: standard deviation of the slope of flakes, either way, tan of paint::Flakes::tilt
// Source     Snell and Fresnel; normal distribution of slopes; aspecular angles as in ASTM E2194 and E2539
// Holds for  directions above the surface; clear binder; flakes much wider than light is long
// Checks     tests/film/flake_geometry_test.cpp, tests/published/flake_geometry.csv
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/film/surface.h"

namespace fadewright::film {

// Towards the light or the eye, seen from the surface; length 1, z along the normal of the surface.
struct Direction {
    double x = 0, y = 0, z = 1;
};

[[nodiscard]] double dot(const Direction& a, const Direction& b) noexcept;

// In the plane of measurement: the light stands at -x, views at +x count positive.
[[nodiscard]] Direction light_direction(Degrees illumination) noexcept;
[[nodiscard]] Direction view_direction(Degrees view) noexcept;

inline constexpr Degrees kIllumination45{45};  // where standard geometries have the light

[[nodiscard]] Degrees aspecular_view(Degrees illumination, Degrees aspecular) noexcept;

// The same way inside the binder.
[[nodiscard]] Direction in_binder(const Direction& in_air, RelativeIndex binder) noexcept;

struct FlakeGeometry {
    double cos_light = 1, cos_view = 1;                // inside the binder, from the film's normal
    double cos_tilt = 1;                               // of a flake that glints
    double cos_incidence = 1;                          // on that flake
    double transmission_in = 1, transmission_out = 1;  // through the skin, 1 - Fresnel
};

// Both directions above the surface (z > 0); one at or below it gives let_in or let_out 0.
[[nodiscard]] FlakeGeometry flake_geometry(const Direction& light, const Direction& view,
                                           RelativeIndex binder = {}) noexcept;

// D, per steradian; s2: square of the slope's deviation.
[[nodiscard]] double normal_density(double cos_tilt, double s2) noexcept;

}  // namespace fadewright::film
