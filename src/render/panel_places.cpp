#include "fadewright/render/panel_places.h"

namespace fadewright::render {

PanelPlaces places_over(const spray::Panel& panel, int each_way) {
    PanelPlaces places;
    for (int row = 0; row < each_way; ++row)
        for (int column = 0; column < each_way; ++column) {
            const double x = (column + 0.5) / each_way * panel.width.value;
            const double y = (row + 0.5) / each_way * panel.height.value;
            if (!panel.inside(x, y)) continue;
            places.x_mm.push_back(x);
            places.y_mm.push_back(y);
        }
    return places;
}

}  // namespace fadewright::render
