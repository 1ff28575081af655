// Height maps from pictures: how bright a pixel is says how high the surface lies there.
//
//     height = black + (white - black) v,   v from 0 (black) to 1 (white)
//
// in equal steps of the stored numbers, which are taken as they are, without any gamma. 16 bits make 65536
// heights; 8 bits only 256, whose steps show as facets. The picture fills the rectangle it is laid on, its
// top row uppermost. Of a coloured picture the weighted mean counts, transparency does not.
//
// Holds for  PNG pictures of at most kLargestMap_px pixels (refused)
// Accuracy   a 65535th of the depth
// Checks     tests/plan/height_map_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/base/result.h"
#include "fadewright/spray/relief.h"

#include <string>

namespace fadewright::plan {

inline constexpr int kLargestMap_px = 16'000'000;

// What black and white stand for, over the plane of the relief.
struct HeightScale {
    Millimetres black, white;
};

// `name` is what a refusal calls the picture. `over` has a width and a height (contract).
[[nodiscard]] Result<spray::HeightMap> height_map_from_png(const std::string& bytes, const std::string& name,
                                                           const spray::Box& bounds, HeightScale scale);

}  // namespace fadewright::plan
