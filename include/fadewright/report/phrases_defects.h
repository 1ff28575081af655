// Defects in words: their kinds, what was found and the remedy.
//
// Checks     tests/report/phrases_defects_test.cpp
#pragma once

#include "fadewright/assess/defects.h"
#include "fadewright/text/display_units.h"

#include <string>
#include <string_view>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::string_view defect_label(assess::DefectKind kind) noexcept;  // "runs and sags"

// Worst first; those with severity ok are left out.
[[nodiscard]] std::vector<assess::Defect> significant_defects(const std::vector<assess::Defect>& defects);

// What was found, where, and the remedy: "90 µm wet at 120 mm from the left, 80 mm up; ..."
[[nodiscard]] std::string defect_details(const assess::Defect& defect, DisplayUnits units);
// With its kind and coat: "runs and sags in 'plum': ..."
[[nodiscard]] std::string describe_defect(const assess::Defect& defect, DisplayUnits units);
// With its severity as well: "problem: runs and sags in 'plum': ..."
[[nodiscard]] std::string defect_text(const assess::Defect& defect, DisplayUnits units);

}  // namespace fadewright::report
