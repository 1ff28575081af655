// Which units people are shown quantities in.
#pragma once

namespace fadewright {

enum class UnitSystem { metric, us };

}  // namespace fadewright
