#include "fadewright/spray/drying.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::spray {
namespace {

constexpr double kZero_K = 273.15;
constexpr double kGas_J_per_mol_K = 8.314462618;

// Constants in common use. Source: [magnus1844].
constexpr double kMagnus_Pa = 610.94;
constexpr double kMagnusSlope = 17.625;
constexpr double kMagnus_C = 243.04;

// Water. The psychrometer constant and the diffusivity at 20 C (growing with the power of the temperature)
// are chosen within their usual range to fit the whole table of K; the diffusivity is taken at the
// mean of air and droplet.
constexpr double kPsychrometer_per_K = 0.000665;
constexpr double kWaterInAir_m2_per_s = 2.40e-5;
constexpr double kDiffusionPower = 1.81;
constexpr double kWater_kg_per_mol = 0.018015;
constexpr double kWater_kg_per_m3 = 1000;

// Solvents: K and droplet temperature in dry air at 20 C computed beforehand with vapour pressure, diffusion
// and self-cooling; heat of evaporation from memory.
constexpr double kTable_C = 20;
struct SolventData {
    Thinner thinner;
    double K_um2_per_s;
    double droplet_C;
    double heat_J_per_mol;
};
constexpr SolventData kSolvents[] = {{Thinner::acetone, 14400, -9, 31.3e3},
                                     {Thinner::ethanol, 4500, 4, 42.5e3},
                                     {Thinner::butyl_acetate, 2560, 15.9, 43.6e3},
                                     {Thinner::xylene, 1880, 16.8, 42.5e3}};

constexpr int kBisections = 60;

// Root of an increasing function.
template <class Function>
double zero_of_rising(double low, double high, const Function& f) {
    for (int i = 0; i < kBisections; ++i) {
        const double middle = (low + high) / 2;
        (f(middle) > 0 ? high : low) = middle;
    }
    return (low + high) / 2;
}

double vapour_kg_per_m3(double pressure_Pa, Celsius temperature) {
    return kWater_kg_per_mol * pressure_Pa / (kGas_J_per_mol_K * (temperature.value + kZero_K));
}

Evaporation water_evaporation(const Air& air) {
    const Celsius droplet_temperature = wet_bulb(air);
    const double mean_K = (air.temperature.value + droplet_temperature.value) / 2 + kZero_K;
    const double D = kWaterInAir_m2_per_s * std::pow(mean_K / (kTable_C + kZero_K), kDiffusionPower);
    const double at_droplet = vapour_kg_per_m3(saturation_Pa(droplet_temperature), droplet_temperature);
    const double in_air =
        vapour_kg_per_m3(air.humidity.value * saturation_Pa(air.temperature), air.temperature);
    const double K_m2_per_s = 8 * D * std::max(0.0, at_droplet - in_air) / kWater_kg_per_m3;
    return {1e12 * K_m2_per_s, droplet_temperature};
}

// The cooling below the air is proportional to the vapour pressure at the droplet.
Evaporation solvent_evaporation(const SolventData& solvent, Celsius air) {
    const double cooling_at_table = kTable_C - solvent.droplet_C;
    const double T0 = solvent.droplet_C + kZero_K;
    const double cooling = zero_of_rising(0, air.value + kZero_K - 100, [&](double drop) {
        const double T = air.value + kZero_K - drop;
        const double vapour = std::exp(solvent.heat_J_per_mol / kGas_J_per_mol_K * (1 / T0 - 1 / T));
        return drop - cooling_at_table * vapour;
    });
    return {solvent.K_um2_per_s * cooling / cooling_at_table, Celsius{air.value - cooling}};
}

double share_of_lifetime(Share solids, Share stiff_solids) {
    FW_EXPECTS(solids.value >= 0);
    FW_EXPECTS(stiff_solids.value > 0);
    return std::max(0.0, 1 - std::pow(solids.value / stiff_solids.value, 2.0 / 3));
}

}  // namespace

double saturation_Pa(Celsius temperature) {
    const double T = temperature.value;
    return kMagnus_Pa * std::exp(kMagnusSlope * T / (T + kMagnus_C));
}

// Psychrometer: the excess of vapour at the droplet over that in the air is proportional to its cooling.
Celsius wet_bulb(const Air& air) {
    FW_EXPECTS(air.humidity.value >= 0);
    FW_EXPECTS(air.humidity.value <= 1);
    const double T = air.temperature.value;
    const double in_air_Pa = air.humidity.value * saturation_Pa(air.temperature);
    return Celsius{zero_of_rising(T - 60, T, [&](double wet) {
        return saturation_Pa(Celsius{wet}) - in_air_Pa -
               kPsychrometer_per_K * kStandardAtmosphere_Pa * (T - wet);
    })};
}

Evaporation evaporation(Thinner thinner, const Air& air) {
    for (const SolventData& solvent : kSolvents)
        if (solvent.thinner == thinner) return solvent_evaporation(solvent, air.temperature);
    return water_evaporation(air);
}

Seconds lifetime(Micrometres droplet, double K_um2_per_s) {
    FW_EXPECTS(K_um2_per_s >= 0);
    if (K_um2_per_s == 0) return Seconds{std::numeric_limits<double>::infinity()};
    return Seconds{droplet.value * droplet.value / K_um2_per_s};
}

Seconds open_time(Micrometres droplet, double K_um2_per_s, Share solids, Share stiff_solids) {
    const double share = share_of_lifetime(solids, stiff_solids);
    if (share == 0) return Seconds{0};
    return share * lifetime(droplet, K_um2_per_s);
}

// The speed is inversely proportional to the distance.
Seconds flight_time(const AirJet& jet, Millimetres distance) {
    return Seconds{distance.value / 1e3 / (2 * centreline_m_per_s(jet, distance))};
}

Micrometres dry_cutoff(Seconds airborne, double K_um2_per_s, Share solids, Share stiff_solids) {
    FW_EXPECTS(airborne.value >= 0);
    FW_EXPECTS(K_um2_per_s >= 0);
    const double share = share_of_lifetime(solids, stiff_solids);
    if (share == 0) return Micrometres{std::numeric_limits<double>::infinity()};
    return Micrometres{std::sqrt(K_um2_per_s * airborne.value / share)};
}

Share dry_share(const DropletSizes& sizes, Micrometres cutoff) { return sizes.mass_below(cutoff); }

Share isolated_share(Micrometres pass_wet_film, Micrometres wet_splat) {
    FW_EXPECTS(pass_wet_film.value >= 0);
    FW_EXPECTS(wet_splat.value > 0);
    return Share{std::exp(-pass_wet_film.value / wet_splat.value)};
}

Share dry_spray_index(Share dry, Share isolated, Seconds levelling, Seconds drying) {
    FW_EXPECTS(levelling.value >= 0);
    FW_EXPECTS(drying.value > 0);
    const double unlevelled = std::min(1.0, levelling / drying);
    return Share{dry.value + (1 - dry.value) * isolated.value * unlevelled};
}

}  // namespace fadewright::spray
