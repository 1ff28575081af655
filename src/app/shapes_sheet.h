// Every effect paint of the library on a speed shape, over black and over white.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/plan/library.h"

namespace fadewright::app {

// Three coats each over black and over white; candies over black and over silver.
[[nodiscard]] Picture shapes_sheet(plan::Library& library, const colour::Illuminant& light);

}  // namespace fadewright::app
