// Tuning a fade: the search for the measures that make it smoothest, under what the painter holds fast.
//
// Every way that may be chosen (method, order, one to three middles, passes found coat by coat or together) is
// looked at once, its width put right; the best kSearched of them are searched: the measures that may be turned
// (extension, middle ratio, width and place of the ramp, overlap, distance), rounded as a shop would (extension to
// halves, ratio to tenths, places to 5 mm, overlap to 5 %, distance to 10 mm). The goal is that of tune_goal.h. The
// best is judged whole, faults and grain as well, beside the plan as it was.
//
// Searches of different ways run side by side; each has its own fixed number of looks, so that the result depends
// on the seed and the effort, not on the machine, unless time runs out.
//
// Source     subspace simplex search, Rowan 1990 (NLopt's SBPLX)
// Accuracy   six fades of 240 to 400 mm, from near neighbours to white and black: width within 5 % of the wanted and
//            bands below the contrast that an eye just sees
// Checks     tests/render/tune_test.cpp
#pragma once

#include "fadewright/render/fade_way.h"
#include "fadewright/render/tune_goal.h"
#include "fadewright/render/unsteady_hand.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::render {

inline constexpr std::size_t kSearched = 3;

// One measure that differs, and what it bought: points lost if only it were put back.
struct Change {
    std::string what, before, after;
    double bought = 0;
};

// What an unsteady hand makes of it: of L* at each place the bounds of nine tries in ten, and of the width.
struct HandBand {
    std::vector<double> low_L, high_L;
    Millimetres narrowest, widest;
    int tries = 0;
};

struct Tuned {
    FadeWay before, after;
    double goal_before = 0, goal_after = 0;  // tune_goal.h
    std::vector<Change> changes;
    HandBand hand;
    int looks = 0;
    bool stopped = false;  // by time or by hand
};

// The plan must hold a fade (contract: judged_line of it has a width). Nothing if it cannot be made at all.
[[nodiscard]] std::optional<Tuned> tuned(const plan::Plan& plan, const TuneWish& wish,
                                         const plan::Shelf& shelf, Diagnostics& diagnostics);

[[nodiscard]] HandBand hand_band(const plan::Job& job, const JudgedLine& line, std::uint64_t seed, int tries);

}  // namespace fadewright::render
