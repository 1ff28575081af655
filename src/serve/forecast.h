// What will happen, in plain sentences with figures: how the fade comes out, what goes wrong, what it takes; and the
// colours along a line.
#pragma once

#include "api_message.h"
#include "plan_cache.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse plan_forecast(PlanCache& plan_cache, const ApiRequest& api_request);
[[nodiscard]] ApiResponse plan_section(PlanCache& plan_cache, const ApiRequest& api_request);

}  // namespace fadewright::serve
