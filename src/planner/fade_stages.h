// The stages of a fade by its method: base coat, mid colours, and the graded coats in order.
#pragma once

#include "fade_film.h"

#include <string>
#include <vector>

namespace fadewright::planner {

struct FadeCoat {
    std::string label;  // part of the coat's name
    std::string mix;
    RampZone zone;
    Micrometres film;
    std::string mix_below;  // mix that it fades out of; empty: fogged over both
    plan::FadeRole role = plan::FadeRole::end;
};

struct FadeStages {
    std::string base_mix;  // mix of the even base coat
    std::vector<Named<plan::Mix>> mixes;
    std::vector<FadeCoat> coats;
    double ramp_share = 1;  // narrowest ramp, as a share of the fade's width
};

// `used_names`: names that new mixes cannot have.
[[nodiscard]] FadeStages fade_stages(const plan::Fade& fade, const std::string& coat_name, double width_mm,
                                     const std::vector<std::string>& used_names);

}  // namespace fadewright::planner
