// The coat's sweeps, followed lines and passes, turned into passes of the gun.
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/spray/outline.h"
#include "fadewright/spray/path.h"
#include "fadewright/text/diagnostic.h"

#include <optional>
#include <vector>

namespace fadewright::plan {

struct MovementDefaults {
    MillimetresPerSecond speed;  // of the gun
    const Coat* coat = nullptr;  // its speed and distance stand before the gun's
};

[[nodiscard]] spray::Pass to_spray(const Pass& pass, const MovementDefaults& defaults);
[[nodiscard]] spray::Sweep to_spray(const Sweep& sweep, const MovementDefaults& defaults);

// Along an outline at an offset, one pass for each ring, anticlockwise around what is inside; none if nothing
// lies so far inside.
[[nodiscard]] std::vector<spray::Pass> trace_outline_pass(const OutlinePass& outline_pass,
                                                          const spray::Outline& outline,
                                                          const MovementDefaults& defaults);
// Along the follow's own path.
[[nodiscard]] spray::Pass trace_outline_pass(const OutlinePass& outline_pass,
                                             const MovementDefaults& defaults);

// Reports P008, P023 and P024: what a single movement says wrongly of itself.
void check_movement(const Pass& pass, Diagnostics& diagnostics);
// How many there are, a place that follows itself counted once.
[[nodiscard]] std::size_t distinct_point_count(const std::vector<Point>& path);
void check_motion(const GunMotion& hand, std::size_t point_count, const SourceSpan& span,
                  Diagnostics& diagnostics);

}  // namespace fadewright::plan
