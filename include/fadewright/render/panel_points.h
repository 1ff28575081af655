// Points spread evenly over a panel, to examine the whole of it.
#pragma once

#include "fadewright/spray/panel.h"

#include <vector>

namespace fadewright::render {

struct PanelPoints {
    std::vector<double> x_mm, y_mm;
};

// The centres of per_side columns and as many rows over its width and height, row by row from below; only
// those inside the panel.
[[nodiscard]] PanelPoints panel_points(const spray::Panel& panel, int per_side);

}  // namespace fadewright::render
