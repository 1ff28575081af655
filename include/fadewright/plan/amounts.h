// Paint amounts of a job: what lands, what is lost, what to mix, and what to weigh.
//
// Per coat the paint is divided into: on the panel, overspray in the air, past the edge, on masks, on
// spray-out cards. A mix is the sum over its coats, plus
//
//     left in gun  what stays in cup and line, each time a gun is filled
//     waste        spilt and strained off       }  shares of all that is sprayed or left in the gun
//     reserve      kept for repairs             }
//     rounding     up to full cups, and to what the scale can show
//
// The recipe is weighed cumulatively: the largest part first, strong and small parts last, reducer at the
// very end, each until the scale shows the printed running total. The running totals are the exact sums
// rounded to the scale division, so errors do not add up; one amount may be off by a division where its two
// totals are rounded in different directions. `error` is the larger of that and half a division.
//
// Film   of a coat is the average over its paint: integral of film squared over integral of film. For an even
//        coat it is the film itself, for a linear ramp two thirds of the full film
//
// Source: own derivation.
// Holds for  transfer efficiency as in the gun file, or for an even coat as in the plan
// Accuracy   on the panel within 1e-3, with masks 5e-3; a mix is the sum of its parts within 1e-9
// Checks     tests/plan/amounts_test.cpp
#pragma once

#include "fadewright/paint/mix.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::plan {

inline constexpr Share kCoarseWeighing{0.05};  // a larger error gives a warning

// Where the paint of one coat goes, wet, as sprayed.
struct CoatAmounts {
    std::string name, mix;
    Micrometres film;  // dry
    Millilitres dry;   // on the piece when dry
    Millilitres on_panel, overspray, off_edge, on_masks;
    Millilitres test_cards;           // for spray-out cards, with what misses them
    bool efficiency_assumed = false;  // from the plan's mixing table, not from a gun
    int passes = 0;
    Seconds trigger_time;

    [[nodiscard]] Millilitres sprayed() const { return on_panel + lost(); }  // without the cards
    [[nodiscard]] Millilitres lost() const { return overspray + off_edge + on_masks; }
};

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

// Another mix of the plan within this one; its paints are already counted.
struct SubMix {
    std::string mix;
    Millilitres volume;
};

struct MixAmounts {
    std::string name;
    std::vector<std::string> coats;
    int fillings = 0;  // of a gun
    Millilitres on_panel, lost, test_cards, left_in_gun, waste, reserve, rounding;
    std::int64_t cups = 0;
    std::vector<RecipeLine> recipe;
    std::vector<SubMix> sub_mixes;
    std::optional<Millilitres> weighable_batch;  // batch without coarse weighings, if there is one now
    paint::MixedPaint paint;

    [[nodiscard]] Millilitres needed() const;     // before rounding
    [[nodiscard]] Millilitres sprayable() const;  // what is mixed, with reducer
    [[nodiscard]] Millilitres unreduced() const;
    [[nodiscard]] Grams grams() const;
};

struct ShoppingItem {
    const paint::Paint* paint = nullptr;
    Millilitres volume;
    Grams grams;
    std::optional<double> cost;  // if the paint has a price
};

struct Amounts {
    ShopSettings mixing;
    std::vector<CoatAmounts> coats;
    std::vector<MixAmounts> mixes;       // in the order of their first coats
    std::vector<ShoppingItem> shopping;  // by name

    [[nodiscard]] const MixAmounts& mix_of(const CoatAmounts& coat) const;
    [[nodiscard]] std::optional<double> cost() const;  // of priced paints; nothing if no paint has a price
};

// `plan` has coats and passes instead of fades (plan/fade.h), and `job` is made from it.
[[nodiscard]] Amounts amounts_of(const Plan& plan, const Job& job, Library& library);

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

}  // namespace fadewright::plan
