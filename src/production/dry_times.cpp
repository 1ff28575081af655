#include "fadewright/production/dry_times.h"

#include "fadewright/production/coverage.h"
#include "fadewright/spray/drying.h"

#include <algorithm>
#include <cmath>

namespace fadewright::production {
namespace {

constexpr double kAir_mm2_per_s = 15;  // kinematic viscosity near 20 C
constexpr Celsius kReferenceTemperature{21};

double acetate_K(const spray::Air& air) {
    return spray::evaporation(spray::Thinner::butyl_acetate, air).K_um2_per_s;
}

// Solvent and water evaporate in parallel, each as it would alone.
double liquid_K(const plan::SprayableMix& mix, const spray::Air& air) {
    const double water = spray::evaporation(spray::Thinner::water, air).K_um2_per_s;
    return (1 - mix.water.value) * mix.evaporation * acetate_K(air) + mix.water.value * water;
}

double boundary_layer_um(MillimetresPerSecond air_speed) {
    const double speed = std::max(air_speed, kMinAirSpeed).value;
    const double reynolds = speed * kPlateLength.value / kAir_mm2_per_s;
    constexpr double kMicrometresPerMillimetre = 1000;
    return kMicrometresPerMillimetre * kPlateLength.value / (0.664 * std::sqrt(reynolds));
}

}  // namespace

DryTimes dry_times(const plan::SprayableMix& mix, Micrometres dry, const plan::Booth& booth,
                   MillimetresPerSecond air_speed) {
    const spray::Air air{booth.temperature, booth.humidity};
    const double K = liquid_K(mix, air);
    const double per_second_um = K / (8 * boundary_layer_um(air_speed));
    const double until_stiff = std::max(0.0, 1 - mix.solids / spray::kStiffSolids);
    const double slower = acetate_K({kReferenceTemperature, booth.humidity}) / K;
    DryTimes times;
    times.flash = Seconds{wet_film_of(dry, mix.solids).value * until_stiff / per_second_um};
    times.recoat = times.flash + Seconds{kThroughDry_s_per_um * dry.value * slower};
    times.tape = kTapeOverRecoat * times.recoat;
    return times;
}

DryTimes dry_times(const plan::ResolvedCoat& coat, Micrometres dry, const plan::Booth& booth,
                   const plan::ShopSettings& mixing) {
    DryTimes times = dry_times(coat.liquid, dry, booth, mixing.air_speed);
    times.flash = mixing.flash.value_or(times.flash);
    times.recoat = mixing.recoat.value_or(times.recoat);
    times.tape = mixing.tape.value_or(times.tape);
    return times;
}

}  // namespace fadewright::production
