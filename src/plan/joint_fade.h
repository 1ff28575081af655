// The graded coats of a fade along the road of its colours.
#pragma once

#include "fade_passes.h"
#include "fadewright/film/stack_colour.h"

#include <optional>
#include <vector>

namespace fadewright::plan {

struct JointFade {
    const Coat& coat;
    const FadeStages& stages;
    const std::vector<FadeGun>& guns;
    const FadeGeometry& geometry;
    const film::StackColour& colours;  // its open coats are the graded ones
    std::vector<double> dry_per_wet;   // of each
    Millimetres view_distance;
};

// Whether its ends look different; else no colours say how much of each coat is wanted where.
[[nodiscard]] bool has_colour_path(const FadeStages& stages, const film::StackColour& colours);

// Reports P030.
[[nodiscard]] std::optional<std::vector<Coat>> joint_coats(const JointFade& fade, Diagnostics& diagnostics);

}  // namespace fadewright::plan
