// The rules of the text layer: what can be wrong with a text before anyone asks what it means.
#pragma once

#include "fadewright/text/diagnostic.h"

#include <span>

namespace fadewright {

[[nodiscard]] std::span<const Rule> text_rules();

}  // namespace fadewright
