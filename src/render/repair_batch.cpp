#include "repair_batch.h"

#include "fadewright/plan/quantities.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

constexpr double kSquareMillimetresPerSquareMetre = 1e6;

bool all_weighed_well(const std::vector<plan::Poured>& poured) {
    return std::none_of(poured.begin(), poured.end(), [](const plan::Poured& p) { return p.is_coarse(); });
}

// A card sprayed first, and what misses it.
Millilitres card(const RepairCoat& coat, const plan::Job& job, const plan::Mixing& mixing) {
    const double area_m2 =
        mixing.card_size.x.value * mixing.card_size.y.value / kSquareMillimetresPerSquareMetre;
    const double sprayed = coat.landed.value + coat.lost.value;
    const Share transfer{sprayed > 0 ? coat.landed.value / sprayed : 1};
    return plan::to_spray(area_m2, coat.film, job.coats[coat.index].mix.solids, transfer);
}

std::vector<paint::Part> poured_parts(const std::vector<paint::Part>& parts) {
    std::vector<paint::Part> some;
    for (const paint::Part& part : parts)
        if (part.parts > 0) some.push_back(part);
    return some;
}

}  // namespace

Millilitres weighable(const std::vector<paint::Part>& parts, Millilitres needed, Grams division) {
    const double first = std::max(1.0, std::ceil(needed.value));
    const std::vector<plan::Poured> one = plan::weighed(parts, Millilitres{first}, division);
    const auto least = std::min_element(one.begin(), one.end(),
                                        [](const auto& a, const auto& b) { return a.exact < b.exact; });
    // From here on a whole division more or less is still good enough.
    const double sure = std::ceil(first * division.value / plan::kCoarseWeighing.value / least->exact.value);
    constexpr double kTried = 5000;
    for (double volume = first; volume < std::min(sure, first + kTried); ++volume)
        if (all_weighed_well(plan::weighed(parts, Millilitres{volume}, division))) return Millilitres{volume};
    return Millilitres{std::max(first, sure)};
}

std::vector<RepairMix> repair_mixes(const std::vector<RepairCoat>& coats, const plan::Job& job,
                                    const Recipes& recipes, const plan::Mixing& mixing) {
    std::vector<RepairMix> mixes;
    for (const RepairCoat& coat : coats) {
        auto mix =
            std::find_if(mixes.begin(), mixes.end(), [&](const RepairMix& m) { return m.name == coat.mix; });
        if (mix == mixes.end()) {
            mix = mixes.emplace(mixes.end());
            mix->name = coat.mix;
            mix->held = mixing.hold_up;  // the gun is filled once
        }
        mix->coats.push_back(coat.name);
        mix->landed = mix->landed + coat.landed;
        mix->lost = mix->lost + coat.lost;
        mix->cards = mix->cards + card(coat, job, mixing);
    }
    for (RepairMix& mix : mixes) {
        const RepairRecipe& recipe = recipes.at(mix.name);
        mix.poured_on = recipe.poured_on;
        mix.reducer_as_planned = recipe.reducer_as_planned;
        mix.waste = mixing.waste.value * mix.needed();
        const std::vector<paint::Part> parts = poured_parts(recipe.parts);
        mix.to_mix = weighable(parts, mix.needed(), mixing.scale);
        mix.for_scale = mix.to_mix.value > std::ceil(mix.needed().value);
        mix.poured = plan::weighed(parts, mix.to_mix, mixing.scale);
    }
    return mixes;
}

}  // namespace fadewright::render
