// Amounts of a job in sentences, for a forecast.
//
// Checks     tests/report/phrases_test.cpp
#pragma once

#include "fadewright/production/amounts.h"
#include "fadewright/text/display_units.h"

#include <optional>
#include <string>

namespace fadewright::report {

// "12 to 20 µm", or "20 µm all over" if it hardly varies.
[[nodiscard]] std::string film_range_text(Micrometres thinnest, Micrometres thickest, DisplayUnits units);
[[nodiscard]] std::string pass_count_text(int passes);  // "12 passes", "1 pass"

// "12 passes, 3 min trigger time."
[[nodiscard]] std::string describe_passes(int passes, Seconds trigger_time);
// "Mix 120 mL (130 g) of plum; 60 mL ends up on the panel."
[[nodiscard]] std::string describe_mix_amount(const production::MixAmounts& mix, DisplayUnits units);
// That the scale is too coarse for the amount, and what to mix instead; nothing if it is fine enough.
[[nodiscard]] std::optional<std::string> describe_coarse_weighing(const production::MixAmounts& mix,
                                                                  DisplayUnits units);

}  // namespace fadewright::report
