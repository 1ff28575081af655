// A recipe: what to weigh of each paint of a mix.
//
// The recipe is weighed cumulatively: the largest part first, strong and small parts last, reducer at the
// very end, each until the scale shows the printed running total. The running totals are the exact sums
// rounded to the scale division, so errors do not add up; one amount may be off by a division where its two
// totals are rounded in different directions. `error` is the larger of that and half a division.
//
// Source: own derivation.
// Checks     tests/production/amounts_test.cpp
#pragma once

#include "fadewright/paint/mix.h"

#include <cstdint>
#include <span>
#include <vector>

namespace fadewright::production {

inline constexpr Share kCoarseWeighing{0.05};  // a larger error gives a warning

// One paint of a recipe, in the order of pouring.
struct RecipeLine {
    const paint::Paint* paint = nullptr;
    double parts = 0;                    // by volume; the smallest is 1
    Share share_of_mix, share_of_paint;  // by volume; "paint" is everything but reducer
    Millilitres volume;                  // volume of `grams`
    Grams exact;                         // before the scale
    Grams grams;                         // to add
    Grams scale_reading;                 // running total on the scale, cup tared
    Share error;                         // of this weighing
    [[nodiscard]] bool is_coarse() const { return error > kCoarseWeighing; }
    [[nodiscard]] bool is_reducer() const { return paint->role == paint::Role::reducer; }
};

// Recipe for that volume of a mix; parts by volume.
[[nodiscard]] std::vector<RecipeLine> weigh_out(std::vector<paint::Part> parts, Millilitres volume,
                                                Grams division);
[[nodiscard]] bool has_coarse_weighing(std::span<const RecipeLine> recipe);  // any of it

// The smallest amount, in whole steps, without a coarse weighing. If it would take more than max_tried steps,
// the amount at which a whole scale division is a small enough error.
struct BatchSteps {
    Millilitres step;
    std::int64_t min_steps = 1;  // no fewer
    std::int64_t max_tried = 2000;
};
[[nodiscard]] Millilitres smallest_weighable_batch(const std::vector<paint::Part>& parts, BatchSteps steps,
                                                   Grams division);

}  // namespace fadewright::production
