// Every paint of the shelf that leaves a film, and how its colours are looked at.
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/colour/light.h"
#include "fadewright/paint/mix.h"
#include "shelf.h"

#include <string>
#include <vector>

namespace fadewright::test {

// Read once, in the order of their names; reducers leave nothing and are not among them.
[[nodiscard]] const std::vector<paint::Paint>& every_paint();
[[nodiscard]] const paint::Paint& paint_called(const std::string& name);
[[nodiscard]] paint::MixedPaint alone(const paint::Paint& paint);

// As seen in daylight (D65, 2 degrees) past the shine of a gloss surface.
[[nodiscard]] colour::Lab lab_seen(const colour::Reflectance& inside);

}  // namespace fadewright::test
