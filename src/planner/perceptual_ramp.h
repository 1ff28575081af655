// The film for which one colour changes evenly into another.
#pragma once

#include "fade_film.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/paint/mix.h"

namespace fadewright::planner {

// For a mix sprayed over another at full hiding: colour differences add up along the growing film, and the
// film is chosen so that they grow evenly. For mixes of the same colour: a linear ramp.
[[nodiscard]] RampProfile perceptual_ramp(const paint::MixedPaint& mix, Micrometres film,
                                          const paint::MixedPaint& below,
                                          const film::Colorimeter& colorimeter);

}  // namespace fadewright::planner
