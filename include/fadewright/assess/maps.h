// Maps to draw over a panel's picture: film of one coat, visible graininess, and the passes of the gun.
//
// Films and graininess are calculated on cells of the panel and interpolated linearly between their centres;
// the edges of masks are as sharp as the pixels of the frame.
//
// Source: own derivation; grain as in [dooley1979].
// Accuracy   independent of the number of threads; films within 1 % of the coat's maximum where the film
//            follows the footprint of the gun
// Checks     tests/assess/maps_test.cpp
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/frame.h"

#include <cstddef>
#include <vector>

namespace fadewright::assess {

// One value for each pixel of a frame; -1 off the panel.
struct PanelMap {
    render::Frame frame;
    Image<float> values;
    double min = 0, max = 0;   // on the panel
    Millimetres max_x, max_y;  // of the maximum; of several, the one nearest to their centre
    double mean = 0;
};

// Dry film of one coat, micrometres.
[[nodiscard]] PanelMap film_map(const plan::Job& job, std::size_t coat, const render::Frame& frame);

// Visible graininess of all dots at the plan's viewing distance, standard deviation in L*.
[[nodiscard]] PanelMap grain_map(const plan::Job& job, const colour::Illuminant& light,
                                 const render::Frame& frame);

// One pass of the gun.
struct PassLine {
    std::size_t coat = 0;
    int number = 0;  // within the coat, from 1
    int repeats = 1;
    bool spot = false;  // a spot: the gun does not move
    std::vector<double> x_mm, y_mm;
    double width_mm = 0;  // pattern width by which overlaps are defined (spray/footprint.h)
};
[[nodiscard]] std::vector<PassLine> pass_lines(const plan::Job& job);

}  // namespace fadewright::assess
