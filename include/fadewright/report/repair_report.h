// The repair of a spot as it is told: what lies there, what can be touched up, how far out it fades, what to weigh.
//
// Checks     tests/report/repair_report_test.cpp, tests/cli/record_test.cpp
#pragma once

#include "fadewright/render/repair.h"
#include "fadewright/text/display_units.h"

#include <string>

namespace fadewright::report {

struct RepairReport {
    std::string title;
    std::string basis;  // which plan it goes by, in words
    render::Repair repair;
    plan::ShopSettings mixing;
    DisplayUnits units;
};

[[nodiscard]] std::string repair_text(const RepairReport& report);
[[nodiscard]] std::string repair_json(const RepairReport& report);

}  // namespace fadewright::report
