// Passes as a painter is told them: alike ones together, by their height over the lower edge.
#pragma once

#include "fadewright/plan/job.h"

#include <string>
#include <string_view>
#include <vector>

namespace fadewright::report {

// Passes that follow one another, alike but for an even step.
struct PassGroup {
    int first = 0, last = 0;  // numbers within the coat, from 1
    int repeats = 1;
    std::string
        position;  // "540 mm up", "540 to 60 mm up, 60 mm apart", "still at 120, 80 mm", "12 mm inside the edge"
    std::string speed;  // "300 mm/s", "0.5 s"
};

[[nodiscard]] std::vector<PassGroup> pass_groups(const plan::ResolvedCoat& coat, const spray::Panel& panel,
                                                 DisplayUnits units);

// "2 to 5", where, how fast, how often.
[[nodiscard]] std::string pass_group_text(const PassGroup& group, std::string_view separator);

}  // namespace fadewright::report
