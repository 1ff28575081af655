// The rules of one coat without a fade: P006 to P008, P012 and P023 to P026.
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/text/diagnostic.h"
#include "fadewright/text/unread_fields.h"

namespace fadewright::plan {

// True if the coat's movements can be turned into passes.
[[nodiscard]] bool check_coat(const Coat& coat, const UnreadFields& unread, Diagnostics& diagnostics);

}  // namespace fadewright::plan
