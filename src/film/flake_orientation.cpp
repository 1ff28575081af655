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
    const double slope = std::tan(flakes.tilt.value * kRadiansPerDegree) *
                         (1 + flakes.wet_disorientation.value * extra_wetness);
    const Degrees wet_tilt{std::atan(slope) / kRadiansPerDegree};
    return std::min(wet_tilt, std::max(kMaxTilt, flakes.tilt));
}

}  // namespace fadewright::film
