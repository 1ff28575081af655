// Recipes in whole numbers: parts a person can count, divisions a scale can show.
#pragma once

#include <functional>
#include <span>
#include <vector>

namespace fadewright::film {

// How far a recipe of these amounts misses; the amounts are counts of whatever is being rounded to.
using RecipeError = std::function<double(std::span<const int>)>;

// Small whole numbers close to the shares, none above `most`, in which nearness and few parts are weighed
// (kPartCost). A share too small for one part gets 0.
[[nodiscard]] std::vector<int> round_to_parts(std::span<const double> shares, int max_count,
                                              const RecipeError& error);

// The shares of so many units, rounded, then moved by single units while that brings the recipe nearer.
[[nodiscard]] std::vector<int> round_to_units(std::span<const double> shares, double units,
                                              const RecipeError& error);

}  // namespace fadewright::film
