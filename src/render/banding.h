// Bands in a fade: what of its lightness is not smooth, as the eye takes it. Private to the figures of a fade.
#pragma once

#include "fadewright/render/fade_metrics.h"

#include <span>

namespace fadewright::render {

struct Banding {
    double over_threshold = 0;
    double at_mm = 0;
};

// The strongest of the bands of a fade that is so wide from 10 % to 90 %.
[[nodiscard]] Banding strongest_banding(std::span<const FadeSample> samples, double width_mm,
                                        const ViewCondition& view);

}  // namespace fadewright::render
