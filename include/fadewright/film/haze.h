// Haze: near-specular reflection of a gloss surface, a few degrees beside the mirror direction.
//
// A surface that is slightly rough, or has fine matter in it, still reflects the light F of Fresnel's law,
// but the share h of it leaves in a lobe about the mirror direction, a degrees off it:
//
//     g(a)     exp(-a^2 / (2 s^2)) / (2 pi s^2)            per steradian; its integral is 1
//     factor   pi F g(a) / cos(view)                       reflectance factor of the lobe, for h = 1
//
// so energy is conserved: 1 - h stays in the sharp image. Viewed off the highlight, haze lifts darks near the
// mirror direction; under diffuse light the share h k1 of the surface reflection reaches the viewer
// everywhere. A matt surface (paint::Paint::flatting) spreads its share f over all directions first; haze is
// of the rest, 1 - f.
//
// Source: [astmE430] (2, 5 and 15 degrees), [iso13803]: haze is light scattered some degrees off the mirror
//            direction. A Gaussian lobe of a width of our own derivation: strong at 2 and 5 degrees and all
//            but gone at 15.
// Holds for  haze of the surface, for any width of the lamp; haze within the film is scattering S of the
//            clear. Flake reflection is not blurred by it: refraction deviates a ray by a quarter of what
//            reflection does
// Accuracy   the lobe summed over the hemisphere is F within 1 % up to 60 degrees
// Checks     tests/film/haze_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/film/surface.h"

namespace fadewright::film {

inline constexpr Degrees kHazeSpread{5};  // s

// The lobe g, `spread` its standard deviation; both above 0 (contract: spread).
[[nodiscard]] double lobe(Degrees off_mirror, Degrees spread);

// For a beam at this incidence, viewed `off_mirror` from its mirror direction at cos_view from the normal.
// `lamp`: standard deviation of the lamp's own directions.
[[nodiscard]] double haze_factor(RelativeIndex binder, Degrees incidence, Degrees off_mirror, double cos_view,
                                 Degrees lamp = Degrees{0});

}  // namespace fadewright::film
