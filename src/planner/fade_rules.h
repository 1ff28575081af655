// The rules of a fade: P007, P026, P027 and P031.
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/text/diagnostic.h"
#include "fadewright/text/unread_fields.h"

namespace fadewright::planner {

// Checks a coat with a fade; true if there is no error.
[[nodiscard]] bool check_fade(const plan::Coat& coat, const UnreadFields& unread, Diagnostics& diagnostics);

}  // namespace fadewright::planner
