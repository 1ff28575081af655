// Maps to draw over a panel's picture: film of one coat, visible grain, and the way of the gun.
//
// Films and grain are worked out on cells of the panel and drawn straight between their middles; the edges of
// masks are as sharp as the frame's own pixels.
//
// Source: own derivation; grain as in [dooley1979].
// Accuracy   no map depends on the number of threads; films within 1 % of the coat's greatest where the film
//            follows the gun's own footprint
// Checks     tests/render/maps_test.cpp
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/frame.h"

#include <cstddef>
#include <vector>

namespace fadewright::render {

// One value for each pixel of a frame; minus 1 beside the panel.
struct PanelMap {
    Frame frame;
    Image<float> values;
    double min = 0, max = 0;   // on the panel
    Millimetres max_x, max_y;  // where, of several places that nearest to their middle
    double mean = 0;
};

// Dry film of one coat, micrometres.
[[nodiscard]] PanelMap film_map(const plan::Job& job, std::size_t coat, const Frame& frame);

// What the eye makes of the grain of all dots at the plan's viewing distance, standard deviation in L*.
[[nodiscard]] PanelMap grain_map(const plan::Job& job, const colour::Illuminant& light, const Frame& frame);

// One movement of the gun as it is laid.
struct PassLine {
    std::size_t coat = 0;
    int number = 0;  // within the coat, from 1
    int repeats = 1;
    bool spot = false;  // a burst in one place
    std::vector<double> x_mm, y_mm;
    double width_mm = 0;  // in which overlaps are counted (spray/footprint.h)
};
[[nodiscard]] std::vector<PassLine> pass_lines(const plan::Job& job);

}  // namespace fadewright::render
