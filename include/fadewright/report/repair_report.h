// Report of a spot repair: the coats there, which of them can be spot-repaired, width of the blend, amounts
// to mix.
//
// Checks     tests/report/repair_report_test.cpp, tests/cli/record_test.cpp
#pragma once

#include "fadewright/assess/repair.h"
#include "fadewright/text/display_units.h"

#include <string>

namespace fadewright::report {

struct RepairReport {
    std::string title;
    std::string basis;  // the plan or log it is based on, as text
    assess::Repair repair;
    plan::ShopSettings mixing;
    DisplayUnits units;
};

[[nodiscard]] std::string repair_text(const RepairReport& report);
[[nodiscard]] std::string repair_json(const RepairReport& report);

}  // namespace fadewright::report
