// Flake content of a mix, as a painter doses it: grams and level teaspoons per litre.
//
//     g      grams stirred into one litre of the paint that its file describes
//     whole  1 litre + g / density of the flakes: volume of the paint with g in it
//     mix    sum of the paints' g / whole, by their shares of the volume as sprayed
//     spoons mix / (spoon x bulk density of the dry powder)
//
// Source: own derivation; teaspoon of 5 ml: common practice, no source.
// Holds for  volumes that add up; the bulk density is that of the paint file, and differs by a
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
    double level_teaspoons = 0;       // per litre of it
    GramsPerMillilitre bulk_density;  // of the dry powder; of several, of all of it together
};

// A flake loading that replaces the one in the paint's file (Library::paint_with_loading).
struct LoadingOverride {
    std::string paint;
    GramsPerLitre loading;
};

// Nothing if no paint of the mix has flakes.
[[nodiscard]] std::optional<FlakeContent> flake_content(std::span<const paint::Part> parts,
                                                        const Library& library,
                                                        const std::optional<LoadingOverride>& other = {});

}  // namespace fadewright::plan
