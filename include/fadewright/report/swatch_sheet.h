// Swatch sheet of paints: each one as masstone, as one and three coats over black and white, and let down
// with white. Paints with flakes are shown at 15° (near-specular) and 45° (face), except for the let-downs.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/formulation/swatches.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] Picture swatch_sheet(const std::vector<formulation::PaintSwatches>& paints,
                                   const std::string& title);

}  // namespace fadewright::report
