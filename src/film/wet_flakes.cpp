#include "fadewright/film/wet_flakes.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace fadewright::film {

SettlingVelocity settling_velocity(const paint::EffectPigment& flakes, GramsPerMillilitre liquid,
                                   double viscosity_mPa_s) {
    FW_EXPECTS(viscosity_mPa_s > 0);
    constexpr double g = 9.80665;  // with um, g/mL and mPa s the powers of ten cancel
    const double density_excess = flakes.density.value - liquid.value;
    const double weight_term =
        std::numbers::pi * flakes.size.value * flakes.thickness.value * density_excess * g;
    return {weight_term / (2 * kDragBroadside * viscosity_mPa_s),
            weight_term / (2 * kDragEdgeOn * viscosity_mPa_s)};
}

Seconds stir_interval(std::span<const paint::EffectPigment> kinds, GramsPerMillilitre liquid,
                      double viscosity_mPa_s, Millimetres depth) {
    double fastest = 0;
    for (const paint::EffectPigment& flakes : kinds)
        if (flakes.platelet_hits_per_um > 0)
            fastest = std::max(fastest, settling_velocity(flakes, liquid, viscosity_mPa_s).mean_um_per_s());
    constexpr double um_per_mm = 1000;
    return Seconds{fastest > 0 ? kMaxSettledShare.value * depth.value * um_per_mm / fastest
                               : std::numeric_limits<double>::infinity()};
}

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
