// Drying in flight: evaporation of droplets, their open time, and the dry-spray index.
//
// A droplet loses liquid from its surface, so its diameter squared falls linearly:
//
//     d^2 = d0^2 - K t
//
// Evaporation cools the droplet until the heat flowing in balances it; for water that is the wet-bulb
// temperature of the air. Once the solids fill the share phi of the droplet it no longer flows, after
//
//     t_dry = (d0^2 / K) (1 - (VS / phi)^(2/3)).
//
// Droplets smaller than d_c when they land (t_dry = their time in flight) land dry; they are the share D1 of
// the mass. Of the wet ones the share D2 = exp(-T / h_s) is isolated, without a wet neighbour. The dry-spray
// index joins both:
//
//     DSI = D1 + (1 - D1) D2 min(1, t_level / t_film)        0 wet, 1 dust
//
// with t_level the time that a splat takes to level and t_film the time it has. In the centre of a spray a
// droplet is in the air for the flight time; in its fringe, where it drifts, 10 to 50 times as long.
//
// Symbols    d um; t s; K um2/s; VS share of solids by volume; T wet film of one pass, h_s of one splat
// Source: [magnus1844] (saturation), [ranz1952] (moving air); d-squared law, drops at the wet-bulb
//            temperature: common practice, no source; t_dry and the index: own derivation.
// Holds for  still air round the droplet: in fast flight it dries 1.5 to 2.5 times as fast [ranz1952]. Air
//            from 0 to 50 C. The index is uncalibrated
// Accuracy   K of water within 0.3 % of its table, of real water within about 20 %
// Checks     tests/spray/drying_test.cpp, tests/published/{drying_water,drying_stiff,dry_spray}.csv
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/spray/droplet.h"

namespace fadewright::spray {

// Pressure of saturated water vapour.
[[nodiscard]] double saturation_Pa(Celsius temperature);

struct Air {
    Celsius temperature{20};
    Share humidity{0.5};  // relative
};

[[nodiscard]] Celsius wet_bulb(const Air& air);

// The volatile part of the paint. The air contains no vapour of the solvents.
enum class Thinner { water, acetone, ethanol, butyl_acetate, xylene };

struct Evaporation {
    double K_um2_per_s = 0;
    Celsius droplet;  // its temperature in flight
};

// Solvents: K is known at 20 C. K is proportional to the cooling below the air, because the heat flowing in
// is what evaporates liquid; the cooling follows the vapour pressure (Clausius and Clapeyron) at the droplet.
[[nodiscard]] Evaporation evaporation(Thinner thinner, const Air& air);

// Infinite in saturated air.
[[nodiscard]] Seconds lifetime(Micrometres droplet, double K_um2_per_s);

inline constexpr Share kStiffSolids{0.65};  // share of solids at which paint stops flowing; 0.6 to 0.7

// 0 if the paint is stiff already.
[[nodiscard]] Seconds open_time(Micrometres droplet, double K_um2_per_s, Share solids,
                                Share stiff_solids = kStiffSolids);

// From the cap to the panel along the axis of the jet.
[[nodiscard]] Seconds flight_time(const AirJet& jet, Millimetres distance);

// d_c: the largest droplet that is stiff after this time in the air.
[[nodiscard]] Micrometres dry_cutoff(Seconds airborne, double K_um2_per_s, Share solids,
                                     Share stiff_solids = kStiffSolids);
[[nodiscard]] Share dry_share(const DropletSizes& sizes, Micrometres cutoff);                       // D1
[[nodiscard]] Share isolated_share(Micrometres pass_wet_film, Micrometres wet_splat);               // D2
[[nodiscard]] Share dry_spray_index(Share dry, Share isolated, Seconds levelling, Seconds drying);  // DSI

inline constexpr Share kDrySpray{0.1};     // warning limit; uncalibrated
inline constexpr Share kGrittySpray{0.3};  // uncalibrated

}  // namespace fadewright::spray
