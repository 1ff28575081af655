// Geometry of reflection from a flake: light, view and the one flake orientation that mirrors between them.
//
// Light refracts at the surface, meets a flake in the binder and refracts again on its way out. Only a flake
// whose normal bisects the two directions in the binder reflects it towards the viewer.
//
//     d_b      a direction in the binder: its component along the surface is that in air over n, it points up
//     h        (light_b + view_b) / length: the normal of the reflecting flake
//     tilt     angle of h from the film's normal; incidence: angle between h and light_b
//     density  of normals at h:  D = exp(-tan^2 tilt / (2 s^2)) / (2 pi s^2 cos^4 tilt); the integral of
//              D cos tilt is 1
//     F        (1 - Fresnel) on the way in and on the way out
//
// In the plane of light and normal, viewing angles count positive on the side away from the light, and the
// aspecular angle from the mirror direction towards the normal: view = illumination - aspecular.
//
// Symbols    s: standard deviation of the flakes' slope in one direction, tan of paint::EffectPigment::tilt
// Source: [astmE2194], [astmE2539] (aspecular angles); own derivation from the laws of Snell and Fresnel and
//            a normal distribution of slopes.
// Holds for  directions above the surface; clear binder; flakes much wider than the wavelength
// Checks     tests/film/flake_geometry_test.cpp, tests/published/flake_geometry.csv
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/film/surface.h"

namespace fadewright::film {

// Towards the light or the viewer, from the surface; unit length, z along the normal of the surface.
struct Direction {
    double x = 0, y = 0, z = 1;
};

[[nodiscard]] double dot(const Direction& a, const Direction& b) noexcept;

// In the plane of measurement: the light is at -x, views at +x count positive.
[[nodiscard]] Direction light_direction(Degrees illumination) noexcept;
[[nodiscard]] Direction view_direction(Degrees view) noexcept;

// Cosines of rays, and of the view, are clamped here: 3 degrees above the film.
inline constexpr double kMinCosine = 0.05;

inline constexpr Degrees kIllumination45{45};  // of the standard geometries

[[nodiscard]] Degrees aspecular_view(Degrees illumination, Degrees aspecular) noexcept;

// The same direction after refraction into the binder.
[[nodiscard]] Direction in_binder(const Direction& in_air, RelativeIndex binder) noexcept;

struct FlakeGeometry {
    double cos_light = 1, cos_view = 1;                // inside the binder, from the film's normal
    double cos_tilt = 1;                               // of the reflecting flake
    double cos_incidence = 1;                          // on that flake
    double transmission_in = 1, transmission_out = 1;  // through the surface, 1 - Fresnel
};

// Both directions above the surface (z > 0); one at or below it gives transmission_in or transmission_out 0.
[[nodiscard]] FlakeGeometry flake_geometry(const Direction& light, const Direction& view,
                                           RelativeIndex binder = {}) noexcept;

// D, per steradian; s2: variance of the slope.
[[nodiscard]] double normal_density(double cos_tilt, double s2) noexcept;

}  // namespace fadewright::film
