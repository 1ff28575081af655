// Places spread evenly over a panel, for looks at the whole of it.
#pragma once

#include "fadewright/spray/panel.h"

#include <vector>

namespace fadewright::render {

struct PanelPoints {
    std::vector<double> x_mm, y_mm;
};

// The middles of so many columns and as many rows over its width and height, row by row from below; those that
// lie inside.
[[nodiscard]] PanelPoints panel_points(const spray::Panel& panel, int per_side);

}  // namespace fadewright::render
