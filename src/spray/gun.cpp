#include "fadewright/spray/gun.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>

namespace fadewright::spray {
namespace {

constexpr Bar kAtmosphere{1.01325};
constexpr double kPatternPower = 0.2;
constexpr double kExitOverTip = 2.5;  // diameter of the air opening over that of the fluid tip
constexpr Millimetres kDefaultExit{3};
constexpr double kDefaultAir_m_per_s = 250;
constexpr double kDefaultNarrowness = 2.5;
constexpr GramsPerMillilitre kDropletDensity{1.0};

double flow_share(double needle_opening) noexcept { return 1 - (1 - needle_opening) * (1 - needle_opening); }

}  // namespace

Micrometres wet_splat(const Gun& gun) noexcept {
    const double d = gun.droplet.value;
    const double beta_s = gun.splat_spread;
    return Micrometres{2 * d / (3 * beta_s * beta_s)};
}

Gun with_settings(const Gun& gun, const Settings& settings) {
    Gun out = gun;
    const double needle_opening = settings.needle_opening ? settings.needle_opening->value : 1;
    FW_EXPECTS(needle_opening > 0 && needle_opening <= 1);
    out.flow = flow_share(needle_opening) * gun.flow;
    double pressure = 1, speed = 1, supply_ratio = 1;
    if (settings.air && gun.air.value > 0) {
        pressure = *settings.air / gun.air;
        speed = cap_air_m_per_s(*settings.air) / cap_air_m_per_s(gun.air);
        supply_ratio = (*settings.air + kAtmosphere) / (gun.air + kAtmosphere);
        out.air = *settings.air;
    }
    const double air = kDefaultAirToLiquid * supply_ratio / flow_share(needle_opening);
    const double droplet_factor =
        std::pow(1 / speed, 0.8) * std::pow((1 + 1 / air) / (1 + 1 / kDefaultAirToLiquid), 0.4);
    out.droplet = droplet_factor * gun.droplet;
    out.transfer_efficiency = Share{std::clamp(
        gun.transfer_efficiency.value - kTransferLossPerAir * (air - kDefaultAirToLiquid), 0.05, 1.0)};
    const double size_factor = std::pow(pressure, kPatternPower);
    out.sigma = size_factor * gun.sigma;
    out.fan_width = size_factor * gun.fan_width;
    out.fan_thickness = size_factor * gun.fan_thickness;
    if (pressure > 1) {
        out.beta_across = 1 + (gun.beta_across - 1) / (pressure * pressure);
        if (gun.pattern == Pattern::round)
            out.ring = Share{std::clamp(gun.ring.value + 2.0 / 3 * (pressure - 1), 0.0, 1.0)};
    }
    return out;
}

AirJet air_jet(const Gun& gun) {
    return {gun.nozzle.value > 0 ? kExitOverTip * gun.nozzle : kDefaultExit,
            gun.air.value > 0 ? cap_air_m_per_s(gun.air) : kDefaultAir_m_per_s};
}

DropletSizes droplet_sizes(const Gun& gun) { return DropletSizes(gun.droplet, kDefaultNarrowness); }

Share transfer_efficiency_at(const Gun& gun, Millimetres distance) noexcept {
    if (distance == gun.distance) return gun.transfer_efficiency;
    const AirJet jet = air_jet(gun);
    const DropletSizes sizes = droplet_sizes(gun);
    const double at_distance = impaction(jet, distance, kDropletDensity, sizes).value;
    const double at_reference = impaction(jet, gun.distance, kDropletDensity, sizes).value;
    return Share{std::min(1.0, gun.transfer_efficiency.value * at_distance / at_reference)};
}

}  // namespace fadewright::spray
