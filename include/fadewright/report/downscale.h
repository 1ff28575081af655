// Downscales a picture by area averaging in linear light.
//
// Every new pixel is the mean of the old ones below it in linear light, weighted by the area it covers (sRGB
// is decoded before and encoded after); rounded to 8 bits without dither.
//
// Holds for  3 channels of sRGB (contract); a picture that is small enough is returned unchanged
// Checks     tests/report/downscale_test.cpp
#pragma once

#include "fadewright/base/image.h"

namespace fadewright::report {

[[nodiscard]] Picture downscale(const Picture& picture, int longest_px);

}  // namespace fadewright::report
