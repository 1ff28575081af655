// Help texts that several requests share (requests_schema.h).
#pragma once

#include <string_view>

namespace fadewright::app {

inline constexpr std::string_view kLibraryHelp =
    "folder of your own paints, guns, grounds, panels and lights";
inline constexpr std::string_view kJsonHelp = "print JSON (always metric)";
inline constexpr std::string_view kUnitsHelp = "units to show: metric or us; default: the plan's, or metric";
inline constexpr std::string_view kPartsHelp =
    "paints from the library with their parts: paint=2 by volume, paint=25% or paint=12.5g; up to 12";
inline constexpr std::string_view kMixPlanHelp = "take mix, ground and light from this plan";
inline constexpr std::string_view kPlanHelp = "the plan file; - reads standard input";

}  // namespace fadewright::app
