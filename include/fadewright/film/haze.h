// Haze: a gloss that throws part of its mirror image a few degrees beside it.
//
// A skin that is a little rough, or has fine matter in its surface, still mirrors the light F that Fresnel's law
// gives it, but the share h of that leaves in a lobe about the mirror direction, a degrees off it:
//
//     g(a)     exp(-a^2 / (2 s^2)) / (2 pi s^2)            per steradian; its integral is 1
//     factor   pi F g(a) / cos(eye)                        reflectance factor of the lobe, for h = 1
//
// so no light is made: 1 - h stays in the sharp image. Looked at past the shine, haze lifts darks near the mirror
// direction; under light from all sides the share h k1 of the skin's own reflection meets the eye everywhere. A
// flatted surface (paint::Paint::flatting) spreads its share f over everything first; haze is of the rest, 1 - f.
//
// Source     Gaussian lobe; what is called haze: light scattered some degrees beside the mirror direction, as in
//            ASTM E430 (2, 5 and 15 degrees) and ISO 13803 (from memory). Its width is our choice: one lobe that
//            is strong at 2 and 5 degrees and has all but gone at 15
// Holds for  haze of the surface, lamps wider or narrower alike; haze within the film is scattering S of the clear.
//            Glint of flakes is not blurred by it: light that passes bends by a quarter of what light mirrored does
// Accuracy   the lobe summed over the hemisphere is F within 1 % up to 60 degrees
// Checks     tests/film/haze_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/film/surface.h"

namespace fadewright::film {

inline constexpr Degrees kHazeSpread{5};  // s

// The lobe g, `spread` its deviation; both above 0 (contract: spread).
[[nodiscard]] double lobe(Degrees off_mirror, Degrees spread);

// Of a beam that arrives so far from the normal, seen `off_mirror` from its mirror direction at cos_eye from the
// normal. `lamp`: deviation of the lamp's own directions.
[[nodiscard]] double haze_factor(RelativeIndex binder, Degrees incidence, Degrees off_mirror, double cos_eye,
                                 Degrees lamp = Degrees{0});

}  // namespace fadewright::film
