// Files to take away: the booth sheet, the client's pages, the picture, outlines at true size. They are made by the
// same commands as on the command line.
#pragma once

#include "api_message.h"
#include "plan_cache.h"
#include "tasks.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse export_file(PlanCache& plan_cache, const ApiRequest& api_request, Task& task);
// What `check --json` answers, byte for byte.
[[nodiscard]] ApiResponse check_plan(PlanCache& plan_cache, const ApiRequest& api_request);
// The search for a smoother fade; stopped by the page, it answers with the best so far.
[[nodiscard]] ApiResponse tune_fade(PlanCache& plan_cache, const ApiRequest& api_request, Task& task);
// The ways of making the plan's fade, compared.
[[nodiscard]] ApiResponse compare_methods(PlanCache& plan_cache, const ApiRequest& api_request, Task& task);

}  // namespace fadewright::serve
