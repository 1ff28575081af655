// Where the light comes from and where the eye is, in the panel's own axes: x right, y up, z off the panel.
//
// Solid colours hardly care; flakes do. As an instrument sees it (`instrument`) one beam meets the panel at 45
// degrees from above and the eye is turned from the mirror direction by the aspecular angle, positive towards
// the normal: 15 is near the shine, 45 straight on, 110 far behind.
//
// On a form (`on_body`) a wide lamp stands at the upper left, even light comes from all around in front, and the
// eye is straight on; mixed so that a flat place that faces the eye counts as 1, which is the colour that
// sections and figures give:
//
//     ambient = A (1 + n.e)/2 / N,   beam = (1 - A) max(0, n.l) / N,   N = A + (1 - A) l_z
//
// In a glossy skin the lamp may show: F g(angle between the lamp and the eye's mirror direction), F Fresnel's
// reflection and g the lamp's own spread, a Gaussian over solid angle. A hazy skin throws part of that wider about
// (film/haze.h), which is seen even where the lamp itself is looked past.
//
// Symbols    n the surface's normal, l towards the lamp, e towards the eye; A = kSoftShare
// Source: [astmE2194], [astmE2539] (aspecular angles); own derivation: cosine law for a matt surface under a
//            lamp and under a hemisphere of even light, their mixture, the lamp's position and width.
// Holds for  showing a form, not for judging colour on it; no cast shadows
// Checks     tests/render/viewing_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/film/flake_geometry.h"
#include "fadewright/spray/relief.h"

namespace fadewright::render {

inline constexpr double kDiffuseShare = 0.55;

using film::Direction;  // here in the panel's axes

[[nodiscard]] Direction surface_normal(const spray::SurfaceSample& surface) noexcept;

struct Viewing {
    Direction light_direction, eye_direction;
    Degrees lamp_spread;       // standard deviation of the directions that its light comes from; 0: a beam
    double diffuse_share = 0;  // share of even light from all around
    bool shows_lamp = false;   // the lamp shows in a glossy skin
    bool uses_slope = false;   // the surface's own slope counts
};

[[nodiscard]] Viewing goniometer_viewing(Degrees aspecular) noexcept;

// tilt: by how much the body is turned, its upper edge away from the eye.
[[nodiscard]] Viewing shape_viewing(Degrees tilt = {}) noexcept;

// How one place is lit and seen.
struct Lighting {
    double ambient = 0, beam = 1;  // of even light and of the lamp's, over a flat place facing the eye
    double lamp_reflection = 0;    // reflectance to add for the lamp's own mirror image
    double haze = 0;               // and for that image as a skin of nothing but haze would throw it
    Direction light_direction, eye_direction;  // z along the place's own normal
};

[[nodiscard]] Lighting lighting(const Viewing& viewing, const spray::SurfaceSample& surface);

}  // namespace fadewright::render
