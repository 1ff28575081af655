// What the page shows of a plan besides pictures: panel, mixes, coats and diagnostics.
#pragma once

#include "api_message.h"
#include "plan_cache.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse plan_model(PlanCache& plan_cache, const ApiRequest& api_request);

// The mixes of the plan, then the mid colours that its fades mix (mixes.cpp).
[[nodiscard]] Json mixes_json(const PreparedPlan& prepared);
// The mix of a fade's mid colour, of several the central one; null if the fade needs none.
[[nodiscard]] const Named<plan::Mix>* mid_colour_mix(const PreparedPlan& prepared, std::size_t coat);
// The coats in spraying order (coats.cpp).
[[nodiscard]] Json coats_json(const PreparedPlan& prepared);

[[nodiscard]] Json point_json(const plan::Point& point);

}  // namespace fadewright::serve
