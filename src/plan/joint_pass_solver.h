// Passes of all graded coats of a fade, found together so that the colours are the wished ones.
//
// First the amounts are fitted as they like (fade_fit.h). Each coat's flow is then set by its thinnest pass that is
// worth laying; passes that a hand cannot lay so thinly are left out or laid as thinly as it can, and passes are
// moved, added and left out as long as that helps. Last, one pass after another is rounded to a speed that a hand
// keeps, the one that suffers most first, and the others make up for it.
#pragma once

#include "fade_fit.h"

#include <span>
#include <vector>

namespace fadewright::plan {

[[nodiscard]] std::vector<PassSpeeds> solve_joint_passes(std::span<const CoatLines> coats,
                                                         const film::StackColour& colours,
                                                         const std::vector<TargetSample>& targets,
                                                         const SampleLine& sample_line);

}  // namespace fadewright::plan
