// The rules of a plan beyond its single fields: names that must exist, things that need each other.
#pragma once

#include "fadewright/text/diagnostic.h"

#include <span>

namespace fadewright::plan {

[[nodiscard]] std::span<const Rule> plan_rules();

}  // namespace fadewright::plan
