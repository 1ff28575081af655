// A plan as the session keeps it: read, and resolved with the library.
#pragma once

#include "fadewright/app/session.h"
#include "fadewright/planner/resolve.h"

#include <memory>

namespace fadewright::app {

struct PreparedPlan : planner::ResolvedPlan {
    plan::Library library;  // as used for the plan; copy it to read more items
};

// The text of the plan: given, or read from its file.
[[nodiscard]] Result<std::shared_ptr<const Source>> source_of(const PlanInput& input);

}  // namespace fadewright::app
