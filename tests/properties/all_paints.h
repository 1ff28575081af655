// Every paint of the shelf that leaves a film, and how its colours are looked at.
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/lab.h"
#include "fadewright/paint/mix.h"
#include "preset_library.h"

#include <string>
#include <vector>

namespace fadewright::test {

// Read once, in the order of their names; reducers leave nothing and are not among them.
[[nodiscard]] const std::vector<paint::Paint>& all_paints();
[[nodiscard]] const paint::Paint& find_paint(const std::string& name);
[[nodiscard]] paint::MixedPaint unmixed(const paint::Paint& paint);

// As seen in daylight (D65, 2 degrees) past the shine of a gloss surface.
[[nodiscard]] colour::Lab daylight_lab(const colour::Reflectance& inside);

}  // namespace fadewright::test
