#include "match_rounding.h"

#include "fadewright/film/match.h"

#include <algorithm>
#include <cmath>

namespace fadewright::film {
namespace {

struct RoundedRecipe {
    std::vector<int> counts;
    double error = 0;
};

bool all_zero(const std::vector<int>& counts) {
    return std::all_of(counts.begin(), counts.end(), [](int n) { return n == 0; });
}

// Repeats the best step of one unit in one paint while it improves the recipe.
RoundedRecipe descend(std::vector<int> counts, int max_count, const RecipeError& error) {
    RoundedRecipe best{counts, error(counts)};
    for (bool improved = true; improved;) {
        improved = false;
        const std::vector<int> current = best.counts;
        for (std::size_t i = 0; i < current.size(); ++i)
            for (const int step : {-1, 1}) {
                counts = current;
                counts[i] += step;
                if (counts[i] < 0 || counts[i] > max_count || all_zero(counts)) continue;
                const double new_error = error(counts);
                if (new_error >= best.error) continue;
                best = {counts, new_error};
                improved = true;
            }
    }
    return best;
}

std::vector<int> round_counts(std::span<const double> shares, double units) {
    std::vector<int> counts;
    for (const double share : shares) counts.push_back(static_cast<int>(std::lround(share * units)));
    if (all_zero(counts))
        counts[static_cast<std::size_t>(std::max_element(shares.begin(), shares.end()) - shares.begin())] = 1;
    return counts;
}

}  // namespace

std::vector<int> round_to_parts(std::span<const double> shares, int max_count, const RecipeError& error) {
    const double max_share = *std::max_element(shares.begin(), shares.end());
    std::vector<int> best;
    double min_cost = 0;
    for (int largest = 1; largest <= max_count; ++largest) {
        const RoundedRecipe candidate = descend(round_counts(shares, largest / max_share), max_count, error);
        const double cost =
            candidate.error + kPartCost * *std::max_element(candidate.counts.begin(), candidate.counts.end());
        if (!best.empty() && cost >= min_cost) continue;
        best = candidate.counts;
        min_cost = cost;
    }
    return best;
}

std::vector<int> round_to_units(std::span<const double> shares, double units, const RecipeError& error) {
    const std::vector<int> start = round_counts(shares, units);
    const int max_count = *std::max_element(start.begin(), start.end()) + 1;
    return descend(start, max_count, error).counts;
}

}  // namespace fadewright::film
