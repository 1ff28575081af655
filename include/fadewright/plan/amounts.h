// How much of everything a job takes: what lands, what is lost, what to mix, and what to weigh.
//
// Of every coat it is known where its paint goes: on the piece, past the piece in the air, beside its outline,
// on masks, on the test cards. A mix is the sum over its coats, and besides
//
//     held      what stays in cup and line, each time a gun is filled with it
//     waste     spilt and strained off       }  shares of all that is sprayed and held
//     reserve   kept for repairs             }
//     rounding  up to a whole number of cups, and to what the scale can show
//
// The recipe is weighed cumulatively: the most first, what is strong and little last, reducer last of all, each
// until the scale reads the printed figure. The figures are the exact sums rounded to the division, so errors
// do not add up; one amount may be off by a division where its two figures are rounded apart. `error` is the
// larger of that and half a division.
//
// Film   of a coat is that in which its paint lies on average: integral of film squared over integral of film.
//        An even coat's film is that; of an even ramp it is two thirds of the full film
//
// Source: own derivation.
// Holds for  transfer as the gun file says it, or for a coat with nothing but a film as the plan says it
// Accuracy   landed within 1e-3, behind masks 5e-3; what is mixed is the sum of the parts within 1e-9
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

inline constexpr Share kCoarseWeighing{0.05};  // a larger error is warned of

// Where the paint of one coat goes, wet, as sprayed.
struct CoatAmounts {
    std::string name, mix;
    Micrometres film;  // dry
    Millilitres dry;   // on the piece when dry
    Millilitres on_panel, overspray, off_edge, on_masks;
    Millilitres test_cards;           // for the test cards, with what misses them
    bool efficiency_assumed = false;  // by the plan's mixing table, not by a gun
    int passes = 0;
    Seconds trigger_time;

    [[nodiscard]] Millilitres sprayed() const { return on_panel + lost(); }  // without the cards
    [[nodiscard]] Millilitres lost() const { return overspray + off_edge + on_masks; }
};

// One paint of a recipe, in the order of pouring.
struct RecipeLine {
    const paint::Paint* paint = nullptr;
    double parts = 0;                    // by volume; the least is 1
    Share share_of_mix, share_of_paint;  // by volume; "paint" is everything but reducer
    Millilitres volume;                  // that is what `grams` are
    Grams exact;                         // before the scale
    Grams grams;                         // to add
    Grams scale_reading;                 // the scale, cup tared, when it is in
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
    std::optional<Millilitres> weighable_batch;  // batch in which no weighing is coarse, if one is now
    paint::MixedPaint paint;

    [[nodiscard]] Millilitres needed() const;     // before rounding
    [[nodiscard]] Millilitres sprayable() const;  // what is mixed, reducer and all
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
    [[nodiscard]] std::optional<double> cost() const;  // of what has a price; none if nothing has
};

// `plan` has coats and passes instead of fades (plan/fade.h), and `job` is made of it.
[[nodiscard]] Amounts amounts_of(const Plan& plan, const Job& job, Library& library);

// So many cups of a mix, weighed; its parts by volume.
[[nodiscard]] std::vector<RecipeLine> weigh_out(std::vector<paint::Part> parts, Millilitres volume,
                                                Grams division);
[[nodiscard]] bool has_coarse_weighing(std::span<const RecipeLine> recipe);  // any of it

// The least amount, in whole steps, of which no part is weighed coarsely. Where many would have to be tried, the
// amount that leaves room for a whole division of the scale.
struct BatchSteps {
    Millilitres step;
    std::int64_t min_steps = 1;  // no fewer
    std::int64_t max_tried = 2000;
};
[[nodiscard]] Millilitres smallest_weighable_batch(const std::vector<paint::Part>& parts, BatchSteps steps,
                                                   Grams division);

}  // namespace fadewright::plan
