// Swatches of one paint: masstone, coats over black and white, and let-downs with white.
//
// Checks     tests/properties/preset_swatches_test.cpp, tests/app/fit_paint_test.cpp
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/lab.h"
#include "fadewright/film/multi_angle.h"
#include "fadewright/paint/paint.h"

#include <string>
#include <vector>

namespace fadewright::formulation {

// The colours of one paint under a gloss surface, specular reflection excluded.
struct PaintSwatches {
    std::string id, title, colour_index;
    colour::Lab masstone;
    colour::Lab one_coat_over_white, one_coat_over_black;
    colour::Lab three_coats_over_white, three_coats_over_black;
    colour::Lab let_down_1, let_down_10, let_down_50;  // 1 part to that many of white, by volume of paint
    double contrast_ratio = 0;                         // of one coat, black over white
    // Of a paint with flakes: masstone, one and three coats over white, one and three over black.
    std::vector<film::MultiAngleColour> at_angles;
};

[[nodiscard]] PaintSwatches swatches_of(const paint::Paint& paint, const paint::Paint& white,
                                        const colour::Illuminant& light);

}  // namespace fadewright::formulation
