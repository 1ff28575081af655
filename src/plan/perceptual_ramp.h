// The film that lets one colour change evenly into another.
#pragma once

#include "fade_film.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/paint/mix.h"

namespace fadewright::plan {

inline constexpr double kIndistinguishable_dE = 1;  // no fade is seen between colours nearer than this

// For a mix laid over another that hides: colour differences add up along the growing film, and the film is
// chosen so that they grow evenly. Mixes that look the same: an even ramp.
[[nodiscard]] RampProfile perceptual_ramp(const paint::MixedPaint& mix, Micrometres film,
                                          const paint::MixedPaint& below,
                                          const film::Colorimeter& colorimeter);

}  // namespace fadewright::plan
