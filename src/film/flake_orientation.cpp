#include "fadewright/film/flake_orientation.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::film {

Degrees tilt_when_wet(const paint::EffectPigment& flakes, Micrometres wet_film, double evaporation) {
    FW_EXPECTS(evaporation > 0);
    if (flakes.nominal_wetness.value <= 0) return flakes.tilt;
    const double extra_wetness = wet_film.value / evaporation / flakes.nominal_wetness.value - 1;
    if (extra_wetness <= 0 || flakes.wet_disorientation.value <= 0) return flakes.tilt;
    constexpr double degree = std::numbers::pi / 180;
    const double slope =
        std::tan(flakes.tilt.value * degree) * (1 + flakes.wet_disorientation.value * extra_wetness);
    const Degrees wet_tilt{std::atan(slope) / degree};
    return std::min(wet_tilt, std::max(kMaxTilt, flakes.tilt));
}

}  // namespace fadewright::film
