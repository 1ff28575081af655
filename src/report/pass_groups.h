// Passes in groups for the booth sheet: equal ones together, by their height above the lower edge.
#pragma once

#include "fadewright/plan/job.h"

#include <string>
#include <string_view>
#include <vector>

namespace fadewright::report {

// Consecutive passes that differ only by an even step.
struct PassGroup {
    int first = 0, last = 0;  // numbers within the coat, from 1
    int repeats = 1;
    // "540 mm up", "540 to 60 mm up, 60 mm apart", "spot at 120, 80 mm", "12 mm inside the edge"
    std::string position;
    std::string speed;  // "300 mm/s", "0.5 s"
};

[[nodiscard]] std::vector<PassGroup> pass_groups(const plan::ResolvedCoat& coat, const spray::Panel& panel,
                                                 DisplayUnits units);

// Numbers ("2 to 5"), position, speed, repeats.
[[nodiscard]] std::string pass_group_text(const PassGroup& group, std::string_view separator);

}  // namespace fadewright::report
