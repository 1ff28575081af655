#include "fadewright/spray/droplet.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::spray {
namespace {

// Room air.
constexpr double kRoom_K = 293.15;
constexpr double kAirHeat_J_per_kg_K = 1005;  // at constant pressure
constexpr double kAirHeatRatio = 1.4;
constexpr double kAirViscosity_Pa_s = 1.81e-5;

// Free round jet, far field: speed on the axis against exit widths, and width against distance. From memory.
constexpr double kJetDecay = 6.2;
constexpr double kJetWidening = 0.2;

// Stokes number at which half the droplets reach a plate under a round jet: its root is about 0.49. From
// memory.
constexpr double kCutStokes = 0.24;

// Plain jet. Source: [rizk1984].
constexpr double kByAir = 0.48;
constexpr double kByViscosity = 0.15;
constexpr double kAirPower = 0.4;

// Source: [scheller1995].
constexpr double kImpactFactor = 0.61;
constexpr double kImpactPower = 0.166;

// Below this the correlation for impact is invalid.
constexpr double kMinImpactSpread = 1.2;

}  // namespace

// Isentropic flow from rest; above the critical pressure the flow is choked (speed of sound).
double cap_air_m_per_s(Bar cap_pressure) {
    FW_EXPECTS(cap_pressure.value >= 0);
    const double power = (kAirHeatRatio - 1) / kAirHeatRatio;
    const double absolute_Pa = kStandardAtmosphere_Pa + 1e5 * cap_pressure.value;
    const double temperature_ratio =
        std::pow(kStandardAtmosphere_Pa / absolute_Pa, power);  // temperature outside over inside
    const double critical = 2 / (kAirHeatRatio + 1);
    return std::sqrt(2 * kAirHeat_J_per_kg_K * kRoom_K * (1 - std::max(temperature_ratio, critical)));
}

Micrometres plain_jet_sauter(const PlainJet& jet) {
    FW_EXPECTS(jet.tip.value > 0);
    FW_EXPECTS(jet.air_m_per_s > 0);
    FW_EXPECTS(jet.air_over_liquid > 0);
    const double d0 = jet.tip.value / 1e3;
    const double U = jet.air_m_per_s;
    const double sigma = jet.tension_mN_per_m / 1e3;
    const double mu = jet.viscosity_mPa_s / 1e3;
    const double rho = 1e3 * jet.density.value;
    const double burden = 1 + 1 / jet.air_over_liquid;
    const double by_air = kByAir * std::pow(sigma / (jet.air_kg_per_m3 * U * U * d0) * burden, kAirPower);
    const double by_viscosity = kByViscosity * std::sqrt(mu * mu / (sigma * rho * d0)) * burden;
    return Micrometres{1e6 * d0 * (by_air + by_viscosity)};
}

DropletSizes::DropletSizes(Micrometres sauter, double narrowness)
    : X_um_(sauter.value * std::tgamma(1 - 1 / narrowness)), q_(narrowness) {
    FW_EXPECTS(narrowness > 1);
    FW_EXPECTS(sauter.value > 0);
}

Micrometres DropletSizes::mass_median() const noexcept {
    return Micrometres{X_um_ * std::pow(std::numbers::ln2, 1 / q_)};
}

Share DropletSizes::mass_below(Micrometres droplet) const noexcept {
    return Share{-std::expm1(-std::pow(std::max(0.0, droplet.value) / X_um_, q_))};
}

Micrometres DropletSizes::quantile(Share mass) const {
    FW_EXPECTS(mass.value >= 0);
    FW_EXPECTS(mass.value < 1);
    return Micrometres{X_um_ * std::pow(-std::log1p(-mass.value), 1 / q_)};
}

double DropletSizes::relative_span() const {
    return (quantile(Share{0.9}) - quantile(Share{0.1})) / mass_median();
}

double centreline_m_per_s(const AirJet& jet, Millimetres distance) {
    FW_EXPECTS(distance.value > 0);
    return std::min(jet.exit_m_per_s, kJetDecay * (jet.exit / distance) * jet.exit_m_per_s);
}

// The jet meets the panel w wide at speed U: Stokes number = rho d^2 U / (9 mu w).
Micrometres cut_diameter(const AirJet& jet, Millimetres distance, GramsPerMillilitre density) {
    const double U = centreline_m_per_s(jet, distance);
    const double w = kJetWidening * distance.value / 1e3;
    const double rho = 1e3 * density.value;
    return Micrometres{1e6 * std::sqrt(9 * kAirViscosity_Pa_s * w * kCutStokes / (rho * U))};
}

Share impaction(const AirJet& jet, Millimetres distance, GramsPerMillilitre density,
                const DropletSizes& sizes) {
    return Share{1 - sizes.mass_below(cut_diameter(jet, distance, density)).value};
}

double impact_spread(const Impact& impact) {
    FW_EXPECTS(impact.droplet.value > 0);
    FW_EXPECTS(impact.viscosity_mPa_s > 0);
    const double d = impact.droplet.value / 1e6;
    const double rho = 1e3 * impact.density.value;
    const double mu = impact.viscosity_mPa_s / 1e3;
    const double sigma = impact.tension_mN_per_m / 1e3;
    const double Re = rho * d * impact.m_per_s / mu;
    const double Oh = mu / std::sqrt(rho * sigma * d);
    return kImpactFactor * std::pow(Re * Re * Oh, kImpactPower);
}

// A spherical cap of the droplet's volume with this contact angle.
double equilibrium_spread(Degrees contact_angle) {
    FW_EXPECTS(contact_angle.value > 0);
    FW_EXPECTS(contact_angle.value <= 90);
    const double angle = radians(contact_angle);
    const double s = std::sin(angle);
    const double c = std::cos(angle);
    // 2 - 3c + c^3 = (1 - c)^2 (2 + c), and 1 - c without cancellation
    const double one_minus_cos = 2 * std::pow(std::sin(angle / 2), 2);
    return std::cbrt(4 * s * s * s / (one_minus_cos * one_minus_cos * (2 + c)));
}

double splat_spread(const Impact& impact, Degrees contact_angle) {
    const double by_impact = impact_spread(impact);
    const double at_rest = equilibrium_spread(contact_angle);
    return by_impact < kMinImpactSpread ? at_rest : std::max(by_impact, at_rest);
}

double mean_coverage(Micrometres wet_film, Micrometres sauter, double spread) {
    FW_EXPECTS(wet_film.value >= 0);
    FW_EXPECTS(sauter.value > 0);
    return 3 * spread * spread * wet_film.value / (2 * sauter.value);
}

Share covered_share(Micrometres wet_film, Micrometres sauter, double spread) {
    return Share{-std::expm1(-mean_coverage(wet_film, sauter, spread))};
}

}  // namespace fadewright::spray
