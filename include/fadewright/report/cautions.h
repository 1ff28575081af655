// The cautions of every sheet: the fixed lines of src/report/tables/cautions.txt, then the plan's own. A plan can
// add lines (mixing.safety_extra), but cannot remove or replace one.
#pragma once

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::vector<std::string> cautions(const std::vector<std::string>& extra = {});

}  // namespace fadewright::report
