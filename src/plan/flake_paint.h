// A paint with flakes stirred into it, from what its file says.
#pragma once

#include "fadewright/plan/library_files.h"
#include "fadewright/text/diagnostic.h"

namespace fadewright::plan {

// The dry flakes as a paint of their own: nothing but solids.
[[nodiscard]] paint::Paint flake_powder(const FlakesFile& file);

// Grams in a litre of the paint they are stirred into, whichever way it is said.
[[nodiscard]] GramsPerLitre loading_of(const FlakesFile& file);

// `paint` is what the flakes go into, and becomes the whole; false if how many is not said once (reported).
[[nodiscard]] bool stir_in(const FlakesFile& file, paint::Paint& paint, Diagnostics& diagnostics);

}  // namespace fadewright::plan
