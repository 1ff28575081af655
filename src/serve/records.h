// The job log: what was really mixed and sprayed. The command `record` lists it and adds entries.
#pragma once

#include "api_message.h"
#include "plan_cache.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse job_log(PlanCache& plan_cache, const ApiRequest& api_request);

}  // namespace fadewright::serve
