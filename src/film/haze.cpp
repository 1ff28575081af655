#include "fadewright/film/haze.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/flake_geometry.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::film {
double lobe(Degrees off_mirror, Degrees spread) {
    FW_EXPECTS(spread.value > 0);
    const double a = off_mirror.value / spread.value, s = spread.value * kRadiansPerDegree;
    return std::exp(-a * a / 2) / (2 * std::numbers::pi * s * s);
}

double haze_factor(RelativeIndex binder, Degrees incidence, Degrees off_mirror, double cos_view,
                   Degrees lamp) {
    const Degrees spread{std::hypot(kHazeSpread.value, lamp.value)};
    return std::numbers::pi * fresnel(binder, incidence) * lobe(off_mirror, spread) /
           std::max(cos_view, kMinCosine);
}

}  // namespace fadewright::film
