// A tint ladder: the same mix in steps, one thing varied, everything else fixed.
//
// Checks     tests/formulation/tint_ladder_test.cpp
#pragma once

#include "fadewright/formulation/flake_appearance.h"

#include <optional>
#include <span>
#include <string>

namespace fadewright::formulation {

struct LadderStep {  // CIEDE2000 from the rung before
    double over_ground = 0, over_white = 0;
};

struct LadderRung {
    std::string label;  // given by the caller: "2 : 1 extended", "25 % white"
    paint::MixedPaint mix;
    Micrometres wet_film;  // film as sprayed, of all coats
    Micrometres film;      // dry, of all coats
    colour::Lab masstone, over_white, over_black, over_ground;
    double contrast_ratio = 0;
    std::optional<Micrometres> film_to_hide;
    std::optional<double> price_per_litre;
    LadderStep step;                        // 0 for the first
    std::optional<FlakeAppearance> flakes;  // in ladders of mixes with flakes, all rungs
};

// Wet film given; the dry film follows from the mix's solids. Without step and flakes.
[[nodiscard]] LadderRung make_rung(std::string label, std::span<const paint::Part> parts, Micrometres wet,
                                   const colour::Reflectance& ground, const film::Colorimeter& colorimeter);

[[nodiscard]] LadderStep step_between(const LadderRung& before, const LadderRung& rung);

}  // namespace fadewright::formulation
