#include "fadewright/spray/mask.h"

#include "fadewright/spray/footprint.h"

#include <cmath>
#include <numbers>

namespace fadewright::spray {
namespace {

constexpr double kEdgeReach = 8;  // multiples of the softness; beyond, the error is below 1e-15

double normal_distribution(double x) noexcept { return std::erfc(-x / std::numbers::sqrt2) / 2; }

}  // namespace

Millimetres edge_softness(const Gun& gun, Millimetres gap, Degrees travel_to_edge) {
    const Spread spread = spread_of(gun);
    const double angle = radians(travel_to_edge);
    const double sigma = std::hypot(spread.across_mm * std::cos(angle), spread.along_mm * std::sin(angle));
    return gap * (sigma / gun.distance.value);
}

Millimetres edge_softness(const Gun& gun, Millimetres gap) {
    return edge_softness(gun, gap, Degrees{45});  // mean variance
}

double Mask::transmission(double x_mm, double y_mm, Millimetres softness) const noexcept {
    const double open_sign = covers == Covers::inside ? 1 : -1;  // sign of the open side
    const double s = softness.value;
    if (!(s > 0)) return outline.inside(x_mm, y_mm) == (covers == Covers::outside) ? 1 : 0;
    const double open_mm = open_sign * outline.distance_gradient(x_mm, y_mm, kEdgeReach * s).distance_mm;
    return normal_distribution(open_mm / s);
}

}  // namespace fadewright::spray
