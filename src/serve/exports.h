// Files to print or send: booth sheet, labels, proof, full-size outline, picture, job log. The commands of
// the command line make them.
#pragma once

#include "api_message.h"
#include "plan_cache.h"
#include "tasks.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse export_file(PlanCache& plan_cache, const ApiRequest& api_request, Task& task);
// The output of `check --json`, byte for byte.
[[nodiscard]] ApiResponse check_plan(PlanCache& plan_cache, const ApiRequest& api_request);
// The search for a smoother fade; if the page cancels it, the best found so far.
[[nodiscard]] ApiResponse tune_fade(PlanCache& plan_cache, const ApiRequest& api_request, Task& task);
// The fade methods for the plan, compared.
[[nodiscard]] ApiResponse compare_methods(PlanCache& plan_cache, const ApiRequest& api_request, Task& task);

}  // namespace fadewright::serve
