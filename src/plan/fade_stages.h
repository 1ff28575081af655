// What a fade's method comes to: the coat beneath, the mixes between, and the graded coats in order.
#pragma once

#include "fade_film.h"

#include <string>
#include <vector>

namespace fadewright::plan {

struct FadeCoat {
    std::string label;  // for the coat's name
    std::string mix;
    RampZone zone;
    Micrometres film;
    std::string mix_below;  // mix that it is seen to fade out of; empty: fogged over both
    bool fogged = false;
};

struct FadeStages {
    std::string base_mix;  // mix of the even coat beneath
    std::vector<Named<Mix>> mixes;
    std::vector<FadeCoat> coats;
    double ramp_share = 1;  // the narrowest ramp, as a share of the fade's width
};

// `taken`: names that mixes may not bear.
[[nodiscard]] FadeStages fade_stages(const Fade& fade, const std::string& coat_name, double width_mm,
                                     const std::vector<std::string>& used_names);

}  // namespace fadewright::plan
