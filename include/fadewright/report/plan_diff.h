// The differences between two plans as text: "mix 'plum', carbon-black: 0.5 -> 0.6".
//
// Field by field, from the plan's schema; mixes, masks and coats are matched by name. Passes, sweeps and the
// like are only reported as changed, or with their number. Comments, layout and units of output do not count:
// plans that differ in nothing else give an empty list.
//
// Checks     tests/report/plan_diff_test.cpp
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/text/display_units.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::vector<std::string> plan_diff(const plan::Plan& before, const plan::Plan& now,
                                                 DisplayUnits units = {});

}  // namespace fadewright::report
