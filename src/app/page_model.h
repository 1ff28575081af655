// What the page shows of a plan besides pictures, and what the answers for pages share.
#pragma once

#include "fadewright/app/page.h"
#include "outcome.h"

#include <nlohmann/json.hpp>

#include <memory>

namespace fadewright::app {

using Json = nlohmann::ordered_json;

// Bytes that are not UTF-8 become replacement characters.
[[nodiscard]] Outcome json_outcome(const Json& json);

// The plan with its job; a failure says that it has errors.
[[nodiscard]] Attempt<std::shared_ptr<const PreparedPlan>> page_plan(Session& session,
                                                                     const PageRequest& request);

// The mixes of the plan, then the mid colours that its fades mix (page_mixes.cpp).
[[nodiscard]] Json mixes_json(const PreparedPlan& prepared);
// The mix of a fade's mid colour, of several the central one; null if the fade needs none.
[[nodiscard]] const Named<plan::Mix>* mid_colour_mix(const PreparedPlan& prepared, std::size_t coat);
// The coats in spraying order (page_coats.cpp).
[[nodiscard]] Json coats_json(const PreparedPlan& prepared);

[[nodiscard]] Json point_json(const plan::Point& point);

}  // namespace fadewright::app
