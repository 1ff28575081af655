// Edits of a plan's text as JSON, in the form in which requests carry them: set and to, or remove.
#pragma once

#include "fadewright/plan/fade_diff.h"

#include <nlohmann/json.hpp>

namespace fadewright::report {

// From the fade of `before` to that of `after`; an empty list without a fade.
[[nodiscard]] nlohmann::ordered_json edits_json(const plan::Plan& before, const plan::Plan& after);

}  // namespace fadewright::report
