// The record of a job: what was really mixed and sprayed, listed and added to by the command of that name.
#pragma once

#include "api_message.h"
#include "plan_cache.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse record(PlanCache& plan_cache, const ApiRequest& api_request);

}  // namespace fadewright::serve
