// Every effect paint of the shelf on a speed shape, over black and over white.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/colour/light.h"
#include "fadewright/plan/shelf.h"

namespace fadewright::app {

// Paints with flakes in three coats; candies in three coats over silver, alone in their second column.
[[nodiscard]] Picture forms_sheet(plan::Shelf& shelf, const colour::Light& light);

}  // namespace fadewright::app
