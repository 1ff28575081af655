// Bands in a fade: what of its lightness is not smooth, as the eye takes it. Private to the figures of a fade.
#pragma once

#include "fadewright/render/fade_figures.h"

#include <span>

namespace fadewright::render {

struct Bands {
    double times_threshold = 0;
    double at_mm = 0;
};

// The strongest of the bands of a fade that is so wide from 10 % to 90 %.
[[nodiscard]] Bands bands(std::span<const FadePlace> places, double width_mm, const Onlooker& seen_by);

}  // namespace fadewright::render
