// Drying on the way: how fast a droplet shrinks, when it stops flowing, and how much of a spray lands dry.
//
// A droplet loses liquid from its surface, so its diameter squared falls evenly:
//
//     d^2 = d0^2 - K t
//
// The loss cools the droplet until the warmth that reaches it pays for it; for water that is the wet-bulb
// temperature of the air. Once the solids fill the share phi of the droplet it can no longer flow, after
//
//     t_dry = (d0^2 / K) (1 - (VS / phi)^(2/3)).
//
// Droplets that are smaller than d_c by the time they land (t_dry = their time in the air) land dry. Those
// are the share D1 of the mass. Of the wet ones the share D2 = exp(-T / h_s) finds no wet neighbour. The
// dry-spray index joins both:
//
//     DSI = D1 + (1 - D1) D2 min(1, t_level / t_film)        0 wet, 1 dust
//
// with t_level the time a splat takes to flow out and t_film the time it has. In the middle of a spray a
// droplet is in the air for the flight time; in its fringe, where it drifts, 10 to 50 times as long.
//
// Symbols    d um; t s; K um2/s; VS share of solids by volume; T wet film of one pass, h_s of one splat
// Source: [magnus1844] (saturation), [ranz1952] (moving air); d-squared law, drops at the wet-bulb
//            temperature: common practice, no source; t_dry and the index: own derivation.
// Holds for  still air round the droplet: while it is shot through the air it dries 1.5 to 2.5 times as fast
//            [ranz1952]. Air from 0 to 50 C. The index is uncalibrated
// Accuracy   K of water within 0.3 % of its table, of the real thing within about 20 %
// Checks     tests/spray/drying_test.cpp, tests/published/{drying_water,drying_stiff,dry_spray}.csv
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/spray/droplet.h"

#include <string_view>

namespace fadewright::spray {

// Pressure of water vapour over water.
[[nodiscard]] double saturation_Pa(Celsius temperature);

struct Air {
    Celsius temperature{20};
    Share humidity{0.5};  // relative
};

[[nodiscard]] Celsius wet_bulb(const Air& air);

// What the paint is thinned with. Air holds no vapour of the solvents.
enum class Thinner { water, acetone, ethanol, butyl_acetate, xylene };

struct Evaporation {
    double K_um2_per_s = 0;
    Celsius droplet;  // how cold the droplet gets
};

// Solvents: K is known at 20 C. Since the warmth that flows in is what evaporates, K grows as the cooling
// below the air does; the cooling follows the vapour pressure (Clausius and Clapeyron) at the droplet.
[[nodiscard]] Evaporation evaporation(Thinner thinner, const Air& air);

// Infinite in saturated air.
[[nodiscard]] Seconds lifetime(Micrometres droplet, double K_um2_per_s);

inline constexpr Share kStiffSolids{0.65};  // share of solids at which paint stops flowing; 0.6 to 0.7

// 0 if the paint is stiff already.
[[nodiscard]] Seconds open_time(Micrometres droplet, double K_um2_per_s, Share solids,
                                Share stiff_solids = kStiffSolids);

// From the cap to the panel along the axis of the jet.
[[nodiscard]] Seconds flight_time(const AirJet& jet, Millimetres distance);

// d_c: the largest droplet that is stiff after so long in the air.
[[nodiscard]] Micrometres dry_cutoff(Seconds airborne, double K_um2_per_s, Share solids,
                                     Share stiff_solids = kStiffSolids);
[[nodiscard]] Share dry_share(const DropletSizes& sizes, Micrometres cutoff);                       // D1
[[nodiscard]] Share isolated_share(Micrometres pass_wet_film, Micrometres wet_splat);               // D2
[[nodiscard]] Share dry_spray_index(Share dry, Share isolated, Seconds levelling, Seconds drying);  // DSI

inline constexpr Share kDrySpray{0.1};     // from here on to be warned of; uncalibrated
inline constexpr Share kGrittySpray{0.3};  // uncalibrated

[[nodiscard]] std::string_view dry_spray_label(Share index) noexcept;

}  // namespace fadewright::spray
