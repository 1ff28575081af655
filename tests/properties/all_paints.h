// Every paint of the library that leaves a film, and the viewing conditions of its colours.
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/lab.h"
#include "fadewright/paint/mix.h"
#include "preset_library.h"

#include <string>
#include <vector>

namespace fadewright::test {

// Read once, in the order of their names; without reducers, which leave no film.
[[nodiscard]] const std::vector<paint::Paint>& all_paints();
[[nodiscard]] const paint::Paint& find_paint(const std::string& name);
[[nodiscard]] paint::MixedPaint unmixed(const paint::Paint& paint);

// In daylight (D65, 2 degrees), gloss surface, specular excluded.
[[nodiscard]] colour::Lab daylight_lab(const colour::Reflectance& inside);

}  // namespace fadewright::test
