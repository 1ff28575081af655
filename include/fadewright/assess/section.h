// A job along a straight line: film of every coat, spectrum and colour at evenly spaced points.
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/plan/job.h"

#include <string>
#include <vector>

namespace fadewright::assess {

struct SectionSample {
    Millimetres along;  // from the start of the line
    Millimetres x, y;
    std::vector<Micrometres> films;  // dry, one for each coat
    colour::Reflectance reflectance;
    colour::Lab lab;
};

struct Section {
    std::vector<std::string> coats;
    std::string light;
    std::vector<SectionSample> samples;
};

// samples >= 2, from != to (contract).
[[nodiscard]] Section section(const plan::Job& job, const colour::Illuminant& light, plan::Point from,
                              plan::Point to, std::size_t samples);

}  // namespace fadewright::assess
