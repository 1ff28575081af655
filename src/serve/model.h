// Everything the page shows of a plan but pictures: pots, panel, coats, and what is wrong.
#pragma once

#include "api_message.h"
#include "plan_cache.h"

namespace fadewright::serve {

[[nodiscard]] ApiResponse plan_model(PlanCache& plan_cache, const ApiRequest& api_request);

// The pots: mixes of the plan, then the middles that its fades mix (pots.cpp).
[[nodiscard]] Json mixes_json(const PreparedPlan& prepared);
// The cup that a fade's middle is mixed in, of several the one halfway; null if it mixes none.
[[nodiscard]] const Named<plan::Mix>* mid_colour_mix(const PreparedPlan& prepared, std::size_t coat);
// The coats, first coat first (coats.cpp).
[[nodiscard]] Json coats_json(const PreparedPlan& prepared);

[[nodiscard]] Json point_json(const plan::Point& point);

}  // namespace fadewright::serve
