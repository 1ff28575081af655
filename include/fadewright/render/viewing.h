// Directions of light and eye in the axes of the panel: x right, y up, z off the panel.
//
// Solid colours hardly depend on them; flakes do. A goniometer (goniometer_viewing()) lights the panel with
// one beam at 45 degrees from above; the eye is at the aspecular angle from the mirror direction, positive
// towards the normal: 15 is near-specular, 45 face, 110 flop.
//
// For a display shape (shape_viewing()) a wide lamp is at the upper left, diffuse light comes from the whole
// front hemisphere, and the eye is straight in front; mixed so that a flat point that faces the eye counts as
// 1, which is the colour of sections and figures:
//
//     ambient = A (1 + n.e)/2 / N,   beam = (1 - A) max(0, n.l) / N,   N = A + (1 - A) l_z
//
// A glossy surface may show the lamp: F g(angle between the lamp and the eye's mirror direction), F Fresnel's
// reflection and g the angular spread of the lamp, a Gaussian over solid angle. A hazy surface scatters part
// of that over a wider angle (film/surface.h), which is visible even off the reflection of the lamp.
//
// Symbols    n normal of the surface, l towards the lamp, e towards the eye; A = kDiffuseShare
// Source: [astmE2194], [astmE2539] (aspecular angles); own derivation: cosine law for a matt surface under a
//            lamp and under a hemisphere of even light, their mixture, the lamp's position and width.
// Holds for  showing a shape, not for judging colour on it; no cast shadows
// Checks     tests/render/viewing_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/film/flake_geometry.h"
#include "fadewright/spray/relief.h"

namespace fadewright::render {

inline constexpr double kDiffuseShare = 0.55;

using film::Direction;  // in the axes of the panel

[[nodiscard]] Direction surface_normal(const spray::SurfaceSample& surface) noexcept;

struct Viewing {
    Direction light_direction, eye_direction;
    Degrees lamp_spread;       // standard deviation of the directions of its light; 0: a beam
    double diffuse_share = 0;  // share of diffuse light
    bool shows_lamp = false;   // a glossy surface mirrors the lamp
    bool uses_slope = false;   // the slope of the surface counts
};

[[nodiscard]] Viewing goniometer_viewing(Degrees aspecular) noexcept;

// tilt: rotation of the body, its upper edge away from the eye.
[[nodiscard]] Viewing shape_viewing(Degrees tilt = {}) noexcept;

// Lighting and viewing of one point.
struct Lighting {
    double ambient = 0, beam = 1;  // diffuse light and lamp light, over those of a flat point facing the eye
    double lamp_reflection = 0;    // reflectance to add for the reflection of the lamp
    double haze = 0;               // the same, for a surface that scatters all of it as haze
    Direction light_direction, eye_direction;  // z along the normal of the point
};

[[nodiscard]] Lighting lighting(const Viewing& viewing, const spray::SurfaceSample& surface);

}  // namespace fadewright::render
