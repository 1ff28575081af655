// Tuning a fade: the search for the settings that make it smoothest, with everything else as planned.
//
// Every combination that may be chosen (method, order, one to three mid colours, passes solved separately or
// jointly) is evaluated once, with its width corrected; the best kMaxSearches of them are optimised: the
// settings that may vary (extend, mid-colour ratio, width and position of the ramp, overlap, distance),
// rounded as a shop would (extend to 0.5, ratio to 0.1, positions to 5 mm, overlap to 5 %, distance to 10
// mm). The objective is that of tune_objective.h. The best is assessed in full, defects and graininess
// included, beside the original plan.
//
// Searches of different combinations run in parallel; each has its own fixed number of trials, so that the
// result depends on the seed and the effort, not on the machine, unless time runs out.
//
// Source: [rowan1990] (subspace simplex search, SBPLX of NLopt).
// Accuracy   six fades of 240 to 400 mm, from near neighbours to white and black: width within 5 % of the
//            target and banding below the visible threshold
// Checks     tests/assess/tune_test.cpp
#pragma once

#include "fadewright/assess/fade_methods.h"
#include "fadewright/assess/operator_variability.h"
#include "fadewright/assess/tune_objective.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace fadewright::assess {

inline constexpr std::size_t kMaxSearches = 3;

// One changed setting and its improvement: the increase of the penalty if only this one is reset. Its values
// are in the two plans.
struct TuneChange {
    Vary vary;
    double gain = 0;
};

struct TuneResult {
    FadeMethodResult before, after;
    double penalty_before = 0, penalty_after = 0;  // tune_objective.h
    std::vector<TuneChange> changes;
    OperatorVariability variability;
    int trials = 0;
    bool stopped = false;  // by the time limit or cancelled
};

// The plan has a job and a fade (contract: its assessment_line() has a width).
[[nodiscard]] TuneResult tune_fade(const planner::ResolvedPlan& resolved, const TuneOptions& options,
                                   const plan::Library& library);

}  // namespace fadewright::assess
