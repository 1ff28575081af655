// How many flakes a mix holds, as a painter doses them: grams and level teaspoons in a litre.
//
//     g      grams stirred into a litre of the paint that its file describes
//     whole  1 litre + g / density of the flakes: so much paint there is then, and g are in it
//     mix    sum of the paints' g / whole, by their shares of the volume as sprayed
//     spoons mix / (spoon x density of the dry powder as it lies)
//
// Source: own derivation; teaspoon of 5 ml: common practice, no source.
// Holds for  volumes that add up; the density in the spoon is what the paint's file states, and differs by a
//            third between powders and between scoops
// Checks     tests/plan/effects_test.cpp
#pragma once

#include "fadewright/paint/mix.h"
#include "fadewright/plan/library.h"

#include <optional>
#include <span>
#include <string>

namespace fadewright::plan {

struct FlakeContent {
    GramsPerLitre in_mix;             // as sprayed
    double level_teaspoons = 0;       // in a litre of it
    GramsPerMillilitre bulk_density;  // of the dry powder; of several, all of it poured together
};

// The paint that was loaded for this instead of as its file says (Shelf::loaded).
struct LoadingOverride {
    std::string paint;
    GramsPerLitre loading;
};

// None if no paint of the mix has flakes.
[[nodiscard]] std::optional<FlakeContent> flake_content(std::span<const paint::Part> parts,
                                                        const Library& library,
                                                        const std::optional<LoadingOverride>& other = {});

}  // namespace fadewright::plan
