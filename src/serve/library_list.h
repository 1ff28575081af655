// What a plan can contain: its fields, from the schema, and the items of the library with their colours.
#pragma once

#include "api_message.h"
#include "plan_cache.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse plan_schema();
[[nodiscard]] ApiResponse library_list(PlanCache& plan_cache);

}  // namespace fadewright::serve
