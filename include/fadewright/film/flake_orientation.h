// How flakes lie in a coat that was laid wetter than usual.
//
// Solvent that leaves draws the flakes flat. In a heavy wet coat they float and tumble for longer before the film
// holds them: they lie wider, the coat is less bright near the shine and less dark far from it. A coat as wet as an
// ordinary medium one, or drier, lies as the paint says.
//
//     w       how long the film stays wet:  wet film / evaporation of its solvent  (n-butyl acetate = 1)
//     w0      the same for one medium coat of the paint as poured (Flakes::usual_wet)
//     slope   tan(tilt) (1 + loosening max(0, w / w0 - 1))         no wider than kWidestLie
//
// Symbols    tilt, loosening of paint::Flakes: the paint's own figures
// Source     that dry coats lie bright and wet ones dark: common practice, no source; the straight rise and its
//            starting value are our own, uncalibrated: spray two cards and set `loosening`
// Holds for  one coat laid wet in wet; coats that flash between each other lie as each of them was laid
// Checks     tests/film/flake_lie_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/paint/effect_pigment.h"

namespace fadewright::film {

// Beyond, flakes no longer lie nearly flat (film/glint.h); a paint that says more keeps what it says.
inline constexpr Degrees kMaxTilt{20};

// wet_film and evaporation as sprayed; evaporation above 0 (contract).
[[nodiscard]] Degrees tilt_when_wet(const paint::EffectPigment& flakes, Micrometres wet_film,
                                    double evaporation = 1);

}  // namespace fadewright::film
