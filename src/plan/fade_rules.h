// What a fade must say, and what it may not: rules P007, P026, P027 and P031.
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/text/diagnostic.h"

namespace fadewright::plan {

// Of a coat with a fade; true if nothing is wrong.
[[nodiscard]] bool check_fade(const Coat& coat, Diagnostics& diagnostics);

}  // namespace fadewright::plan
