// Names of library items that a plan uses unless it gives others.
#pragma once

namespace fadewright::plan {

inline constexpr const char* kDefaultLight = "day";
inline constexpr const char* kDefaultGround = "grey-sealer";
inline constexpr const char* kDefaultWhite = "titanium-white";
inline constexpr const char* kDefaultClearBase = "clear-base";
inline constexpr const char* kDefaultReducer = "reducer-medium";

}  // namespace fadewright::plan
