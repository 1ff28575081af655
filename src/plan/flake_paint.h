// A paint with flakes, from its file.
#pragma once

#include "fadewright/plan/library_files.h"
#include "fadewright/text/diagnostic.h"

namespace fadewright::plan {

// The dry flakes as a paint that is all solids.
[[nodiscard]] paint::Paint flake_powder(const FlakesFile& file);

// Grams per litre of the paint without flakes, from loading or teaspoons.
[[nodiscard]] GramsPerLitre loading_of(const FlakesFile& file);

// Adds the flakes to `paint`. Reports and returns false if not exactly one of loading and teaspoons is given.
[[nodiscard]] bool stir_in(const FlakesFile& file, paint::Paint& paint, Diagnostics& diagnostics);

}  // namespace fadewright::plan
