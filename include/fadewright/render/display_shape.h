// Display shapes: the coats of the panel shown on a curved body that turns its surface in every direction.
//
// Pearl is judged on a curved shape. The films are those of the flat panel, point by point; only the outline
// and the surface normals are those of the shape:
//
//     dome          a low spherical cap, as wide as the panel's shorter side
//     cylinder      horizontal, as high as the panel
//     speed shape   a drop: round nose to the left, pointed tail to the right, slightly flattened back
//
//     half height of the drop    y(x) = H/2 sqrt(x) (1 - x) / max,   x from the nose, 0 to 1
//     its surface                z(x, y) = 0.6 y(x) (1 - |v|^p)^(1/p),   v = y / y(x), p = 2.4
//
// Source: own derivation.
// Holds for  showing colour travel; not for the deposit of paint on such a body
// Checks     tests/render/display_shape_test.cpp
#pragma once

#include "fadewright/plan/job.h"

namespace fadewright::render {

enum class DisplayShape { panel, dome, cylinder, speed_shape };

// The job on the display shape. `panel` is the job itself.
[[nodiscard]] plan::Job with_shape(const plan::Job& job, DisplayShape shape);

// The job without its clear coats: matt, as the last colour coat dries.
[[nodiscard]] plan::Job without_clear(plan::Job job);

}  // namespace fadewright::render
