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
// Film   of a coat is the average over its paint: integral of film squared over integral of film. For an even
//        coat it is the film itself, for a linear ramp two thirds of the full film
//
// Source: own derivation.
// Holds for  transfer efficiency as in the gun file, or for an even coat as in the plan
// Accuracy   on the panel within 1e-3, with masks 5e-3; a mix is the sum of its parts within 1e-9
// Checks     tests/production/amounts_test.cpp
#pragma once

#include "fadewright/paint/mix.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"
#include "fadewright/production/weigh_out.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::production {

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
    plan::ShopSettings mixing;
    std::vector<CoatAmounts> coats;
    std::vector<MixAmounts> mixes;       // in the order of their first coats
    std::vector<ShoppingItem> shopping;  // by name

    [[nodiscard]] const MixAmounts& mix_of(const CoatAmounts& coat) const;
    [[nodiscard]] std::optional<double> cost() const;  // of priced paints; nothing if no paint has a price
};

// `plan` has coats and passes instead of fades (planner/fade.h), and `job` is made from it.
[[nodiscard]] Amounts amounts_of(const plan::Plan& plan, const plan::Job& job, plan::Library& library);

}  // namespace fadewright::production
