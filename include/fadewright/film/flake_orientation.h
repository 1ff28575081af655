// Flake orientation in a coat sprayed wetter than usual: the tilt distribution widens with wet time.
//
// Shrinkage of the drying film pulls flakes flat. In a heavy wet coat they float and rotate for longer before
// the film fixes them: their tilts spread, the coat is darker near the highlight and lighter at the flop. A
// medium coat or a drier one has the tilt that the paint states.
//
//     w       wet time of the film:  wet film / evaporation rate of its solvent  (n-butyl acetate = 1)
//     w0      the same for one medium coat of the paint as poured (EffectPigment::nominal_wetness)
//     slope   tan(tilt) (1 + wet_disorientation max(0, w / w0 - 1))         clamped at kMaxTilt
//
// Symbols    tilt, wet_disorientation: members of paint::EffectPigment
// Source: common practice, no source: dry coats are bright, wet ones dark. The straight rise and its starting
//            value are our own derivation, uncalibrated: spray two cards and set `wet_disorientation`.
// Holds for  one coat sprayed wet in wet; of coats that flash off in between, each by its own wet film
// Checks     tests/film/flake_orientation_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/paint/effect_pigment.h"

namespace fadewright::film {

// Beyond it flakes are not nearly flat (film/flake_reflection.h); a paint that states more keeps its own.
inline constexpr Degrees kMaxTilt{20};

// wet_film and evaporation as sprayed; evaporation above 0 (contract).
[[nodiscard]] Degrees tilt_when_wet(const paint::EffectPigment& flakes, Micrometres wet_film,
                                    double evaporation = 1);

}  // namespace fadewright::film
