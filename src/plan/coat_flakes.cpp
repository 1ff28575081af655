#include "coat_flakes.h"

#include "fadewright/film/wet_flakes.h"

namespace fadewright::plan {

Micrometres mean_wet_film(const ResolvedCoat& coat, const spray::Panel& panel) {
    constexpr int kSamples = 24;  // along each side
    double sum = 0, squared = 0;
    for (int j = 0; j < kSamples; ++j)
        for (int i = 0; i < kSamples; ++i) {
            const double x = panel.width.value * (i + 0.5) / kSamples,
                         y = panel.height.value * (j + 0.5) / kSamples;
            if (!panel.inside(x, y)) continue;
            const double wet = coat.wet_um(x, y);
            sum += wet;
            squared += wet * wet;
        }
    return Micrometres{sum > 0 ? squared / sum : 0};
}

void orient_flakes(ResolvedCoat& coat, const spray::Panel& panel) {
    if (coat.mix.flakes.empty() || coat.laydown == Laydown::dots || !coat.deposit) return;
    const Micrometres wet = mean_wet_film(coat, panel);
    for (paint::EffectPigment& flakes : coat.mix.flakes)
        flakes.tilt = film::tilt_when_wet(flakes, wet, coat.liquid.evaporation);
}

}  // namespace fadewright::plan
