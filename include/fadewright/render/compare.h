// Colour difference of two pictures: CIEDE2000 pixel by pixel.
//
// Both are read as sRGB. Dithered pictures of the same paint differ by single levels of single pixels, so the
// maximum says little about a whole picture; the mean and the 99.9th percentile do. difference_picture() is a
// false-colour map: black for no difference, through blue, green and yellow to white at `full_dE`.
//
// Source: [iso11664-6]; three thresholds as is usual for comparing renders: common practice, no source.
// Checks     tests/render/compare_test.cpp
#pragma once

#include "fadewright/base/image.h"

#include <optional>

namespace fadewright::render {

struct Difference {
    double max = 0;   // CIEDE2000 of the worst pixel
    double p999 = 0;  // 999 of 1000 pixels are at most this far apart
    double mean = 0;
    int worst_x = 0, worst_y = 0;  // the first of the worst pixels

    friend bool operator==(const Difference&, const Difference&) = default;
};

// Pictures of 3 channels (contract); nothing if their sizes differ.
[[nodiscard]] std::optional<Difference> difference(const Picture& a, const Picture& b);

// Pictures of equal size (contract); full_dE above 0.
[[nodiscard]] Picture difference_picture(const Picture& a, const Picture& b, double full_dE);

}  // namespace fadewright::render
