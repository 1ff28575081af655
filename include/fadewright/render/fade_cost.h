// What a way of making a fade asks of the painter: time, paint, film, and what may go wrong on the way.
//
// Checks     tests/render/fade_cost_test.cpp
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/render/defects.h"

#include <string>
#include <vector>

namespace fadewright::render {

struct PaintUse {
    std::string mix;
    Millilitres sprayed;  // out of the gun, reducer and all
};

struct FadeCost {
    int passes = 0;
    Seconds trigger_time;             // trigger pulled
    std::vector<PaintUse> paint;      // in the order the mixes are first used; covers count by their own film
    Micrometres max_film;             // dry, all coats, on the line
    double grain_L = 0;               // greatest visible grain on the line, L*
    Defect sag, dry_spray, striping;  // the worst of each kind
};

// places: points of the line that the fade is judged along.
[[nodiscard]] FadeCost fade_cost(const plan::Job& job, std::span<const plan::Point> points);

}  // namespace fadewright::render
