// The unit system that quantities are displayed in.
#pragma once

namespace fadewright {

enum class UnitSystem { metric, us };

}  // namespace fadewright
