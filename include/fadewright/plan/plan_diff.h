// What changed from one plan to another, in words: "mix 'plum', carbon-black: 0.5 -> 0.6".
//
// Field by field, from the plan's own list of fields; mixes, masks and coats are known by their names. Of passes,
// sweeps and the like only that they changed, or how many there are. Remarks, layout and the units to show do not
// count: of two plans that differ in nothing else nothing is said.
//
// Checks     tests/plan/plan_changes_test.cpp
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/text/display_units.h"

#include <string>
#include <vector>

namespace fadewright::plan {

[[nodiscard]] std::vector<std::string> plan_diff(const Plan& before, const Plan& now,
                                                 DisplayUnits units = {});

}  // namespace fadewright::plan
