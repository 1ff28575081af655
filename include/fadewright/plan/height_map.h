// Height maps from pictures: the brightness of a pixel is the height of the surface.
//
//     height = black + (white - black) v,   v from 0 (black) to 1 (white)
//
// in equal steps of the stored numbers, without any gamma. 16 bits give 65536 heights; 8 bits only 256, whose
// steps show as facets. The picture fills the rectangle, top row uppermost. A coloured picture counts by its
// weighted mean; transparency is ignored.
//
// Holds for  PNG pictures of at most kLargestMap_px pixels (refused)
// Accuracy   1/65535 of the depth
// Checks     tests/plan/height_map_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/base/result.h"
#include "fadewright/spray/relief.h"

#include <string>

namespace fadewright::plan {

inline constexpr int kLargestMap_px = 16'000'000;

// Heights of black and white over the plane of the relief.
struct HeightScale {
    Millimetres black, white;
};

// `name` is the picture's name in error messages. `bounds` has a width and a height (contract).
[[nodiscard]] Result<spray::HeightMap> height_map_from_png(const std::string& bytes, const std::string& name,
                                                           const geometry::Box& bounds, HeightScale scale);

}  // namespace fadewright::plan
