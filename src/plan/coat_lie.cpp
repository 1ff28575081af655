#include "coat_lie.h"

#include "fadewright/film/flake_lie.h"

namespace fadewright::plan {

Micrometres body_wet_film(const ReadyCoat& coat, const spray::Panel& panel) {
    constexpr int kPlaces = 24;  // along each side
    double sum = 0, squared = 0;
    for (int j = 0; j < kPlaces; ++j)
        for (int i = 0; i < kPlaces; ++i) {
            const double x = panel.width.value * (i + 0.5) / kPlaces,
                         y = panel.height.value * (j + 0.5) / kPlaces;
            if (!panel.inside(x, y)) continue;
            const double wet = coat.wet_um(x, y);
            sum += wet;
            squared += wet * wet;
        }
    return Micrometres{sum > 0 ? squared / sum : 0};
}

void lay_flakes(ReadyCoat& coat, const spray::Panel& panel) {
    if (coat.mix.flakes.empty() || coat.laydown == Laydown::fog || !coat.deposit) return;
    const Micrometres wet = body_wet_film(coat, panel);
    for (paint::Flakes& flakes : coat.mix.flakes)
        flakes.tilt = film::lie_of(flakes, wet, coat.liquid.evaporation);
}

}  // namespace fadewright::plan
