#include "repair_batch.h"

#include "fadewright/plan/coverage.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

constexpr std::int64_t kMaxBatch_mL = 5000;

// A spray-out card sprayed first, with its overspray.
Millilitres card_paint(const RepairCoat& coat, const plan::Job& job, const plan::ShopSettings& mixing) {
    const double sprayed = coat.landed.value + coat.lost.value;
    const Share transfer_efficiency{sprayed > 0 ? coat.landed.value / sprayed : 1};
    return plan::spray_volume(mixing.card_area_m2(), coat.film, job.coats[coat.index].mix.solids,
                              transfer_efficiency);
}

std::vector<paint::Part> used_parts(const std::vector<paint::Part>& parts) {
    std::vector<paint::Part> used;
    for (const paint::Part& part : parts)
        if (part.parts > 0) used.push_back(part);
    return used;
}

}  // namespace

std::vector<RepairMix> repair_mixes(const std::vector<RepairCoat>& coats, const plan::Job& job,
                                    const Recipes& recipes, const plan::ShopSettings& mixing) {
    std::vector<RepairMix> mixes;
    for (const RepairCoat& coat : coats) {
        auto mix =
            std::find_if(mixes.begin(), mixes.end(), [&](const RepairMix& m) { return m.name == coat.mix; });
        if (mix == mixes.end()) {
            mix = mixes.emplace(mixes.end());
            mix->name = coat.mix;
            mix->left_in_gun = mixing.left_in_gun;  // the gun is filled once
        }
        mix->coats.push_back(coat.name);
        mix->landed = mix->landed + coat.landed;
        mix->lost = mix->lost + coat.lost;
        mix->cards = mix->cards + card_paint(coat, job, mixing);
    }
    for (RepairMix& mix : mixes) {
        const RepairRecipe& recipe = recipes.at(mix.name);
        mix.mixed_on = recipe.mixed_on;
        mix.reducer_as_planned = recipe.reducer_as_planned;
        mix.waste = mixing.waste.value * mix.needed();
        const std::vector<paint::Part> parts = used_parts(recipe.parts);
        const std::int64_t needed_mL = std::llround(std::max(1.0, std::ceil(mix.needed().value)));
        mix.to_mix =
            plan::smallest_weighable_batch(parts, {Millilitres{1}, needed_mL, kMaxBatch_mL}, mixing.scale);
        mix.raised_for_scale = mix.to_mix.value > std::ceil(mix.needed().value);
        mix.recipe_lines = plan::weigh_out(parts, mix.to_mix, mixing.scale);
    }
    return mixes;
}

}  // namespace fadewright::render
