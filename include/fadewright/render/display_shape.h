// Sample forms: the same coats as on the panel, looked at on a body that turns its surface to every side.
//
// A pearl is judged by how it turns over a form. The films are those of the flat panel, place by place; only the
// outline and the surface that light meets are another's:
//
//     dome          a low cap of a sphere, as wide as the panel's shorter side
//     cylinder      lying across, as high as the panel
//     speed shape   a drop: round nose to the left, pointed tail to the right, its back a little flattened
//
//     half height of the drop    y(x) = H/2 sqrt(x) (1 - x) / max,   x from the nose, 0 to 1
//     its surface                z(x, y) = 0.6 y(x) (1 - |v|^p)^(1/p),   v = y / y(x), p = 2.4
//
// Source: own derivation.
// Holds for  showing how a colour turns; not for how paint lands on such a body
// Checks     tests/render/form_test.cpp
#pragma once

#include "fadewright/plan/job.h"

namespace fadewright::render {

enum class DisplayShape { panel, dome, cylinder, speed_shape };

// The job as it looks on the form. `panel` is the job itself.
[[nodiscard]] plan::Job with_shape(const plan::Job& job, DisplayShape shape);

// The job with no clear on top: dull, as its last colour dries.
[[nodiscard]] plan::Job without_clear(plan::Job job);

}  // namespace fadewright::render
