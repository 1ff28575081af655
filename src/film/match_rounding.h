// Rounded recipes: whole parts, and divisions of a scale.
#pragma once

#include <functional>
#include <span>
#include <vector>

namespace fadewright::film {

// Colour difference of a recipe of these amounts, counted in the unit that is rounded to.
using RecipeError = std::function<double(std::span<const int>)>;

// Small whole numbers close to the shares, none above `max_count`, a compromise of accuracy and few parts
// (kPartCost). A share too small for one part gets 0.
[[nodiscard]] std::vector<int> round_to_parts(std::span<const double> shares, int max_count,
                                              const RecipeError& error);

// The shares of `units`, rounded, then changed by single units while that improves the recipe.
[[nodiscard]] std::vector<int> round_to_units(std::span<const double> shares, double units,
                                              const RecipeError& error);

}  // namespace fadewright::film
