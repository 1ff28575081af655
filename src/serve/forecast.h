// The predicted result in plain sentences with figures: the fade, the defects, the amounts; and the
// cross-section along a line.
#pragma once

#include "api_message.h"
#include "plan_cache.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse plan_forecast(PlanCache& plan_cache, const ApiRequest& api_request);
[[nodiscard]] ApiResponse plan_section(PlanCache& plan_cache, const ApiRequest& api_request);

}  // namespace fadewright::serve
