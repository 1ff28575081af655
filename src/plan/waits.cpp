#include "fadewright/plan/waits.h"

#include "fadewright/plan/quantities.h"
#include "fadewright/spray/drying.h"

#include <algorithm>
#include <cmath>

namespace fadewright::plan {
namespace {

constexpr double kAir_mm2_per_s = 15;  // kinematic viscosity near 20 C
constexpr Celsius kUsual{21};

double acetate_K(const spray::Air& air) {
    return spray::evaporation(spray::Thinner::butyl_acetate, air).K_um2_per_s;
}

// Solvent and water leave side by side, each as it would alone.
double liquid_K(const Liquid& liquid, const spray::Air& air) {
    const double water = spray::evaporation(spray::Thinner::water, air).K_um2_per_s;
    return (1 - liquid.water.value) * liquid.evaporation * acetate_K(air) + liquid.water.value * water;
}

double still_air_um(MillimetresPerSecond air_speed) {
    const double speed = std::max(air_speed, kStillest).value;
    const double reynolds = speed * kPlate.value / kAir_mm2_per_s;
    constexpr double kMicrometresPerMillimetre = 1000;
    return kMicrometresPerMillimetre * kPlate.value / (0.664 * std::sqrt(reynolds));
}

}  // namespace

Waits waits_after(const Liquid& liquid, Micrometres dry, const Booth& booth, MillimetresPerSecond air_speed) {
    const spray::Air air{booth.temperature, booth.humidity};
    const double K = liquid_K(liquid, air);
    const double per_second_um = K / (8 * still_air_um(air_speed));
    const double until_stiff = std::max(0.0, 1 - liquid.solids / spray::kStiffSolids);
    const double slower = acetate_K({kUsual, booth.humidity}) / K;
    Waits waits;
    waits.flash = Seconds{wet_film_of(dry, liquid.solids).value * until_stiff / per_second_um};
    waits.recoat = waits.flash + Seconds{kThrough_s_per_um * dry.value * slower};
    waits.tape = kTape * waits.recoat;
    return waits;
}

Waits waits_after(const ReadyCoat& coat, Micrometres dry, const Booth& booth, const Mixing& mixing) {
    Waits waits = waits_after(coat.liquid, dry, booth, mixing.air_speed);
    waits.flash = mixing.flash.value_or(waits.flash);
    waits.recoat = mixing.recoat.value_or(waits.recoat);
    waits.tape = mixing.tape.value_or(waits.tape);
    return waits;
}

}  // namespace fadewright::plan
