#include "fadewright/render/panel_points.h"

namespace fadewright::render {

PanelPoints panel_points(const spray::Panel& panel, int per_side) {
    PanelPoints points;
    for (int row = 0; row < per_side; ++row)
        for (int column = 0; column < per_side; ++column) {
            const double x = (column + 0.5) / per_side * panel.width.value;
            const double y = (row + 0.5) / per_side * panel.height.value;
            if (!panel.inside(x, y)) continue;
            points.x_mm.push_back(x);
            points.y_mm.push_back(y);
        }
    return points;
}

}  // namespace fadewright::render
