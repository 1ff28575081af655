// Banding in a fade: the visible deviation of its lightness from a smooth curve. Private to fade_metrics().
#pragma once

#include "fadewright/render/fade_metrics.h"

#include <span>

namespace fadewright::render {

struct Banding {
    double over_threshold = 0;
    double at_mm = 0;
};

// The strongest banding of a fade of this width (10 to 90 %).
[[nodiscard]] Banding strongest_banding(std::span<const FadeSample> samples, double width_mm,
                                        const ViewCondition& view);

}  // namespace fadewright::render
