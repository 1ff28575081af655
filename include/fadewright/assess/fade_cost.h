// Effort and risks of a fade: passes, trigger time, paint, film build, graininess and defects.
//
// Checks     tests/assess/fade_methods_test.cpp
#pragma once

#include "fadewright/assess/defects.h"
#include "fadewright/plan/job.h"

#include <string>
#include <vector>

namespace fadewright::assess {

struct PaintUse {
    std::string mix;
    Millilitres sprayed;  // leaving the gun, reducer included
};

struct FadeCost {
    int passes = 0;
    Seconds trigger_time;             // with the trigger pulled
    std::vector<PaintUse> paint;      // in the order of first use; even coats count by their film
    Micrometres max_film;             // dry, all coats, on the line
    double grain_L = 0;               // maximum visible graininess on the line, L*
    Defect sag, dry_spray, striping;  // the worst of each kind
};

// points: of the assessment line.
[[nodiscard]] FadeCost fade_cost(const plan::Job& job, std::span<const plan::Point> points);

}  // namespace fadewright::assess
