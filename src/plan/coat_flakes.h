// Flake orientation of a resolved coat, from its mean wet film (film/wet_flakes.h).
#pragma once

#include "fadewright/plan/job.h"

namespace fadewright::plan {

// Mean wet film of the passes, weighted by the film itself. 0 without passes: an even coat counts as sprayed
// in as many medium coats as it needs.
[[nodiscard]] Micrometres mean_wet_film(const ResolvedCoat& coat, const spray::Panel& panel);

// Widens the tilt of the coat's flakes by its wet film. Separate dots keep the tilt of the paint.
void orient_flakes(ResolvedCoat& coat, const spray::Panel& panel);

}  // namespace fadewright::plan
