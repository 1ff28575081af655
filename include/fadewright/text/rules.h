// The rules of the text layer: errors of syntax, types, units and ranges.
#pragma once

#include "fadewright/text/diagnostic.h"

#include <span>

namespace fadewright {

[[nodiscard]] std::span<const Rule> text_rules();

}  // namespace fadewright
