// How a ready coat's flakes lie: as wet as most of it is laid (film/flake_lie.h).
#pragma once

#include "fadewright/plan/job.h"

namespace fadewright::plan {

// Wet film of the passes as it counts for flakes: each place by the film that lies there. 0 without passes: an even
// film that is only said is taken as laid in as many ordinary coats as it needs.
[[nodiscard]] Micrometres mean_wet_film(const ResolvedCoat& coat, const spray::Panel& panel);

// Widens the tilt of the coat's flakes by its wet film. Dots that dry apart lie as the paint says.
void orient_flakes(ResolvedCoat& coat, const spray::Panel& panel);

}  // namespace fadewright::plan
