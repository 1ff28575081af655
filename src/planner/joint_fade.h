// The graded coats of a fade with the joint ramp: all coats solved together along the colour path.
#pragma once

#include "fade_passes.h"
#include "fadewright/film/stack_colour.h"

#include <optional>
#include <vector>

namespace fadewright::planner {

struct JointFade {
    const plan::Coat& coat;
    const FadeStages& stages;
    const std::vector<FadeGun>& guns;
    const FadeGeometry& geometry;
    const film::StackColour& colours;  // its free coats are the graded ones
    std::vector<double> dry_per_wet;   // per graded coat
    Millimetres view_distance;
};

// Whether its ends differ in colour; otherwise no path can be followed.
[[nodiscard]] bool has_colour_path(const FadeStages& stages, const film::StackColour& colours);

// Reports P030.
[[nodiscard]] std::optional<std::vector<plan::Coat>> joint_coats(const JointFade& fade,
                                                                 Diagnostics& diagnostics);

}  // namespace fadewright::planner
