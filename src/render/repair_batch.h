// The small batches of a repair: what its coats take of each mix, and what the scale can weigh.
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

// Batches in whole millilitres, no less than needed, of which no part is weighed coarsely.
[[nodiscard]] std::vector<RepairMix> repair_mixes(const std::vector<RepairCoat>& coats, const plan::Job& job,
                                                  const Recipes& recipes, const plan::ShopSettings& mixing);

}  // namespace fadewright::render
