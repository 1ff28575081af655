// The cross-field rules of a plan: names that must exist, fields that need each other.
#pragma once

#include "fadewright/text/diagnostic.h"

#include <span>

namespace fadewright::plan {

[[nodiscard]] std::span<const Rule> plan_rules();

}  // namespace fadewright::plan
