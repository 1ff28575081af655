// Candidate sets of paints.
#pragma once

#include "match_fit.h"

#include <vector>

namespace fadewright::film {

// The most promising sets of 1 to max_paints paints in their fitted shares, every number of paints
// represented, in no order of merit.
[[nodiscard]] std::vector<Fit> candidate_fits(const Fitter& fitter, std::size_t max_paints);

}  // namespace fadewright::film
