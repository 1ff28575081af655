#include "fadewright/film/settling.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace fadewright::film {

Sinking sinking(const paint::Flakes& flakes, GramsPerMillilitre liquid, double viscosity_mPa_s) {
    FW_EXPECTS(viscosity_mPa_s > 0);
    constexpr double g = 9.80665;  // with um, g/mL and mPa s the powers of ten cancel
    const double heavier = flakes.density.value - liquid.value;
    const double pull = std::numbers::pi * flakes.size.value * flakes.thickness.value * heavier * g;
    return {pull / (2 * kDragBroadside * viscosity_mPa_s), pull / (2 * kDragEdgeOn * viscosity_mPa_s)};
}

Seconds stir_again(std::span<const paint::Flakes> kinds, GramsPerMillilitre liquid, double viscosity_mPa_s,
                   Millimetres depth) {
    double fastest = 0;
    for (const paint::Flakes& flakes : kinds)
        if (flakes.crossings_per_um > 0)
            fastest = std::max(fastest, sinking(flakes, liquid, viscosity_mPa_s).mean_um_per_s());
    constexpr double um_per_mm = 1000;
    return Seconds{fastest > 0 ? kSettled.value * depth.value * um_per_mm / fastest
                               : std::numeric_limits<double>::infinity()};
}

}  // namespace fadewright::film
