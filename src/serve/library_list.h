// What a plan may hold: its fields from the schema, and the names on the shelf with their looks.
#pragma once

#include "api_message.h"
#include "plan_cache.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse plan_schema();
[[nodiscard]] ApiResponse library_list(PlanCache& plan_cache);

}  // namespace fadewright::serve
