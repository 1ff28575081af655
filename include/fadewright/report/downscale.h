// A picture made smaller: what a pixel of it would see of the large one.
//
// Every new pixel is the mean of the light of the old ones below it, each counted by the area it covers (sRGB is
// unfolded before and folded after); rounded to 8 bits without dither.
//
// Holds for  3 channels of sRGB (contract); a picture that is small enough already stays as it is
// Checks     tests/report/shrunk_test.cpp
#pragma once

#include "fadewright/base/image.h"

namespace fadewright::report {

[[nodiscard]] Picture downscale(const Picture& picture, int longest_px);

}  // namespace fadewright::report
