// The small batches of a repair: the amount of each mix for its coats, and the smallest that the scale can
// weigh.
#pragma once

#include "fadewright/render/repair.h"

#include <map>
#include <string>
#include <vector>

namespace fadewright::render {

struct RepairRecipe {
    std::vector<paint::Part> parts;
    std::string mixed_on;
    bool reducer_as_planned = false;
};
using Recipes = std::map<std::string, RepairRecipe>;

// Batches in whole millilitres, at least as much as needed, in which the scale can weigh every part.
[[nodiscard]] std::vector<RepairMix> repair_mixes(const std::vector<RepairCoat>& coats, const plan::Job& job,
                                                  const Recipes& recipes, const plan::ShopSettings& mixing);

}  // namespace fadewright::render
