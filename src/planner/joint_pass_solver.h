// Solves the passes of all graded coats of a fade together for the target colours.
//
// First the amounts are fitted without limits (fade_fit.h). The flow of each coat is then set by its thinnest
// useful pass; passes too thin for a hand are left out or sprayed as thin as possible, and passes are moved,
// added and left out as long as that lowers the cost. Last, one pass after another is rounded to a speed that
// a hand can keep, the one with the largest rounding error first, and the others are fitted again.
#pragma once

#include "fade_fit.h"

#include <span>
#include <vector>

namespace fadewright::planner {

[[nodiscard]] std::vector<PassSpeeds> solve_joint_passes(std::span<const CoatLines> coats,
                                                         const film::StackColour& colours,
                                                         const std::vector<TargetSample>& targets,
                                                         const SampleLine& sample_line);

}  // namespace fadewright::planner
