// Every effect paint of the shelf on a speed shape, over black and over white.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/plan/library.h"

namespace fadewright::app {

// Paints with flakes in three coats; candies in three coats over silver, alone in their second column.
[[nodiscard]] Picture shapes_sheet(plan::Library& library, const colour::Illuminant& light);

}  // namespace fadewright::app
