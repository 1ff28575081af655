#include "fadewright/spray/settings.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>

namespace fadewright::spray {
namespace {

constexpr Bar kAtmosphere{1.01325};
constexpr double kPatternPower = 0.2;
constexpr double kExitOverTip = 2.5;  // width of the air's own opening over the fluid tip's
constexpr Millimetres kUsualExit{3};
constexpr double kUsualAir_m_s = 250;
constexpr double kUsualNarrowness = 2.5;
constexpr GramsPerMillilitre kDropletDensity{1.0};

double flow_share(double needle) noexcept { return 1 - (1 - needle) * (1 - needle); }

}  // namespace

Gun set(const Gun& gun, const Settings& settings) {
    Gun out = gun;
    const double needle = settings.needle ? settings.needle->value : 1;
    FW_EXPECTS(needle > 0 && needle <= 1);
    out.flow = flow_share(needle) * gun.flow;
    double pressure = 1, speed = 1, supply = 1;
    if (settings.air && gun.air.value > 0) {
        pressure = *settings.air / gun.air;
        speed = cap_air_m_per_s(*settings.air) / cap_air_m_per_s(gun.air);
        supply = (*settings.air + kAtmosphere) / (gun.air + kAtmosphere);
        out.air = *settings.air;
    }
    const double air = kUsualAir * supply / flow_share(needle);
    const double finer = std::pow(1 / speed, 0.8) * std::pow((1 + 1 / air) / (1 + 1 / kUsualAir), 0.4);
    out.droplet = finer * gun.droplet;
    out.transfer = Share{std::clamp(gun.transfer.value - kTransferPerAir * (air - kUsualAir), 0.05, 1.0)};
    const double wider = std::pow(pressure, kPatternPower);
    out.sigma = wider * gun.sigma;
    out.fan_width = wider * gun.fan_width;
    out.fan_depth = wider * gun.fan_depth;
    if (pressure > 1) {
        out.beta_across = 1 + (gun.beta_across - 1) / (pressure * pressure);
        if (gun.pattern == Pattern::round)
            out.ring = Share{std::clamp(gun.ring.value + 2.0 / 3 * (pressure - 1), 0.0, 1.0)};
    }
    return out;
}

AirJet air_jet(const Gun& gun) {
    return {gun.nozzle.value > 0 ? kExitOverTip * gun.nozzle : kUsualExit,
            gun.air.value > 0 ? cap_air_m_per_s(gun.air) : kUsualAir_m_s};
}

DropletSizes droplet_sizes(const Gun& gun) { return DropletSizes(gun.droplet, kUsualNarrowness); }

Share transfer_at(const Gun& gun, Millimetres distance) noexcept {
    if (distance == gun.distance) return gun.transfer;
    const AirJet jet = air_jet(gun);
    const DropletSizes sizes = droplet_sizes(gun);
    const double here = impaction(jet, distance, kDropletDensity, sizes).value;
    const double usual = impaction(jet, gun.distance, kDropletDensity, sizes).value;
    return Share{std::min(1.0, gun.transfer.value * here / usual)};
}

}  // namespace fadewright::spray
