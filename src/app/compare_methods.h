// The methods of making a plan's fade, side by side.
#pragma once

#include "fadewright/app/commands.h"

namespace fadewright::app {

[[nodiscard]] Outcome compare_methods(const FadeRequest& request);

}  // namespace fadewright::app
