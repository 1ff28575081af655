// Turns the sweeps, outline passes and passes of a coat into passes of the gun.
//
// Checks     tests/plan/spray_passes_test.cpp
#pragma once

#include "fadewright/geometry/outline.h"
#include "fadewright/plan/plan.h"
#include "fadewright/spray/gun.h"
#include "fadewright/spray/path.h"
#include "fadewright/text/diagnostic.h"

#include <optional>
#include <vector>

namespace fadewright::plan {

struct MovementDefaults {
    MillimetresPerSecond speed;  // of the gun
    const Coat* coat = nullptr;  // its speed and distance override the gun's
};

// A gun from the library with the settings of one coat.
[[nodiscard]] spray::Gun gun_as_set(const Coat& coat, spray::Gun gun);

[[nodiscard]] spray::Pass to_spray(const Pass& pass, const MovementDefaults& defaults);
[[nodiscard]] spray::Sweep to_spray(const Sweep& sweep, const MovementDefaults& defaults);

// Along an outline at an offset, one pass per ring, counterclockwise around its inside; none if no point is
// that far inside.
[[nodiscard]] std::vector<spray::Pass> trace_outline_pass(const OutlinePass& outline_pass,
                                                          const geometry::Outline& outline,
                                                          const MovementDefaults& defaults);
// Along the path of the outline pass; several passes where it turns too tightly for the offset, or none.
[[nodiscard]] std::vector<spray::Pass> trace_outline_pass(const OutlinePass& outline_pass,
                                                          const MovementDefaults& defaults);

// Reports P008, P023 and P024: errors of a single pass.
void check_movement(const Pass& pass, Diagnostics& diagnostics);
// Number of points; repeated points count once.
[[nodiscard]] std::size_t distinct_point_count(const std::vector<Point>& path);
void check_motion(const GunMotion& hand, std::size_t point_count, const SourceSpan& span,
                  Diagnostics& diagnostics);

}  // namespace fadewright::plan
