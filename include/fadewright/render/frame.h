// Pixel coordinates of a panel's picture, the panel with a margin at one scale; points spread over a panel.
#pragma once

#include <vector>
#include "fadewright/base/quantity.h"
#include "fadewright/spray/panel.h"

namespace fadewright::render {

struct Frame {
    int width = 0, height = 0;
    double mm_per_px = 1;
    double left_mm = 0, top_mm = 0;  // of the picture's upper left corner

    // Of the centre of a pixel, rows counted down from the top.
    [[nodiscard]] double x_mm(int x) const { return left_mm + (x + 0.5) * mm_per_px; }
    [[nodiscard]] double y_mm(int y) const { return top_mm - (y + 0.5) * mm_per_px; }
};

// longest_px: the longer side, margin included.
[[nodiscard]] Frame panel_frame(const spray::Panel& panel, int longest_px, Millimetres margin);

// Points spread evenly over a panel, to examine the whole of it.
struct PanelPoints {
    std::vector<double> x_mm, y_mm;
};

// The centres of per_side columns and as many rows over its width and height, row by row from below; only
// those inside the panel.
[[nodiscard]] PanelPoints panel_points(const spray::Panel& panel, int per_side);

}  // namespace fadewright::render
