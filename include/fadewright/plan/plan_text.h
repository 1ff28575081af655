// A plan as text.
#pragma once

#include "fadewright/plan/plan.h"

#include <string>

namespace fadewright::plan {

// The plan as a painter would write it, without fields at their defaults. Reading it back gives an equal
// plan.
[[nodiscard]] std::string plan_text(const Plan& plan);

}  // namespace fadewright::plan
