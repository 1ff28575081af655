// The repair of a spot as it is told: what lies there, what can be touched up, how far out it fades, what to weigh.
//
// Checks     tests/report/repair_report_test.cpp, tests/cli/record_test.cpp
#pragma once

#include "fadewright/render/repair.h"
#include "fadewright/text/shown_units.h"

#include <string>

namespace fadewright::report {

struct RepairTold {
    std::string title;
    std::string by;  // which plan it goes by, in words
    render::Repair repair;
    plan::Mixing mixing;
    ShownUnits units;
};

[[nodiscard]] std::string repair_words(const RepairTold& told);
[[nodiscard]] std::string repair_json(const RepairTold& told);

}  // namespace fadewright::report
