#include "fadewright/render/frame.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {

Frame panel_frame(const spray::Panel& panel, int longest_px, Millimetres margin) {
    const double width_mm = panel.width.value + 2 * margin.value,
                 height_mm = panel.height.value + 2 * margin.value;
    Frame frame;
    frame.mm_per_px = std::max(width_mm, height_mm) / longest_px;
    const auto pixels = [&](double mm) {
        return std::max(1, static_cast<int>(std::lround(mm / frame.mm_per_px)));
    };
    frame.width = pixels(width_mm);
    frame.height = pixels(height_mm);
    frame.left_mm = -margin.value;
    frame.top_mm = panel.height.value + margin.value;
    return frame;
}

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
