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
// Source: [rowan1990] (subspace simplex search, SBPLX of NLopt).
// Accuracy   six fades of 240 to 400 mm, from near neighbours to white and black: width within 5 % of the wanted and
//            bands below the contrast that an eye just sees
// Checks     tests/render/tune_test.cpp
#pragma once

#include "fadewright/render/fade_methods.h"
#include "fadewright/render/operator_error.h"
#include "fadewright/render/tune_objective.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::render {

inline constexpr std::size_t kMaxSearches = 3;

// One measure that differs, and what it bought: points lost if only it were put back.
struct TuneChange {
    std::string label, before, after;
    double gain = 0;
};

// What an unsteady hand makes of it: of L* at each place the bounds of nine tries in ten, and of the width.
struct OperatorVariability {
    std::vector<double> low_L, high_L;
    Millimetres min_width, max_width;
    int runs = 0;
};

struct TuneResult {
    FadeMethodResult before, after;
    double penalty_before = 0, penalty_after = 0;  // tune_goal.h
    std::vector<TuneChange> changes;
    OperatorVariability variability;
    int trials = 0;
    bool stopped = false;  // by time or by hand
};

// The plan must hold a fade (contract: judged_line of it has a width). Nothing if it cannot be made at all.
[[nodiscard]] std::optional<TuneResult> tune_fade(const plan::Plan& plan, const TuneOptions& options,
                                                  const plan::Library& library, Diagnostics& diagnostics);

[[nodiscard]] OperatorVariability operator_variability(const plan::Job& job, const AssessmentLine& line,
                                                       std::uint64_t seed, int runs);

}  // namespace fadewright::render
