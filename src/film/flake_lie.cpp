#include "fadewright/film/flake_lie.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::film {

Degrees lie_of(const paint::Flakes& flakes, Micrometres wet_film, double evaporation) {
    FW_EXPECTS(evaporation > 0);
    if (flakes.usual_wet.value <= 0) return flakes.tilt;
    const double wetter = wet_film.value / evaporation / flakes.usual_wet.value - 1;
    if (wetter <= 0 || flakes.loosening.value <= 0) return flakes.tilt;
    constexpr double degree = std::numbers::pi / 180;
    const double slope = std::tan(flakes.tilt.value * degree) * (1 + flakes.loosening.value * wetter);
    const Degrees wider{std::atan(slope) / degree};
    return std::min(wider, std::max(kWidestLie, flakes.tilt));
}

}  // namespace fadewright::film
