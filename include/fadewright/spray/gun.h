// Gun: a spray tool with its settings, and the splat of a single droplet.
//
// The spray layer calculates how much wet paint lands where. All its films are WET paint as sprayed, in
// micrometres of wet film, which is the same number as millilitres per square metre; the solids of the mix
// turn it into dry film elsewhere.
//
// Reading order of this layer: gun.h (with the effect of needle, air and distance), footprint.h (paint of
// a still gun), path.h (motion of the gun), polyline.h and flatten.h (a pass as short straight segments),
// pass_segment.h (one segment on a flat panel, in closed form), puff.h (one instant of a gun at any angle
// over any surface), deposit.h (the film of all of them), film_grid.h (the same on a grid, fast), contour.h,
// outline.h, relief.h, mask.h and panel.h (the piece, and what lands on it), overlap.h (evenness of parallel
// passes), droplet.h, drying.h and sag_levelling.h (single droplets and wet films), gun_fit.h (a gun from its
// spray-pattern card). incomplete_beta.h serves footprint.h.
//
// A droplet of diameter d flattens to a splat beta_s times as wide. The mean wet thickness of the splats is
//
//     h_s = 2 d / (3 beta_s^2)
//
// with d the Sauter mean diameter, for any distribution of sizes.
//
// Source: [scheller1995] (beta_s from measured paint drops); volume of a sphere spread over a disc: own
//            derivation.
// Holds for  splats that wet the ground on first contact; beta_s 1.5 to 3
// Checks     tests/spray/gun_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/spray/droplet.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::spray {

enum class Pattern { round, fan, measured };

// Lengths hold at the reference distance; they grow in proportion to the distance.
struct Gun {
    std::string id;
    std::string title;
    std::string source;  // where the numbers come from
    Pattern pattern = Pattern::round;
    Millimetres distance{150};       // reference distance, nozzle to panel
    Millimetres sigma{12};           // round: standard deviation
    Share ring;                      // round: share of the paint in a ring about the centre (hollow)
    Millimetres fan_width{200};      // fan, measured: whole length of the long axis, 2a
    Millimetres fan_thickness{50};   // fan, measured: whole length of the short axis, 2B
    double beta_across = 2;          // fan: taper along the long axis, at least 1
    double beta_along = 2;           // fan, measured: taper along the short axis, at least 1
    std::vector<double> profile;     // measured: film of one pass at even steps over the width, any scale
    MillilitresPerMinute flow{20};   // liquid leaving the gun, trigger fully open
    Share transfer_efficiency{0.6};  // share of it that lands on an infinite panel
    Micrometres droplet{30};         // Sauter mean diameter
    double splat_spread = 2;         // splat diameter over droplet diameter
    Millimetres nozzle;              // fluid tip; 0: not known
    Bar air;                         // 0: not known

    friend bool operator==(const Gun&, const Gun&) = default;
};

// Mean wet thickness of one splat.
[[nodiscard]] Micrometres wet_splat(const Gun& gun) noexcept;

// Gun settings: effect of the needle, the air and the distance.
//
// A gun file holds one setting: needle fully open, its stated air, the reference distance. From there
//
//     flow       F = F0 (1 - (1 - n)^2)      n needle opening: the annular gap that a cone leaves open
//     droplet    D = D0 (U0/U)^0.8 [(1 + 1/A) / (1 + 1/A0)]^0.4
//     pattern    width and thickness grow as (p/p0)^0.2
//     taper      of a fan: b - 1 falls as (p0/p)^2: the fan fills out to its ends
//     ring       of a round pattern: (2/3) (p/p0 - 1) at most 1: flat-topped at twice the stated pressure
//     transfer   efficiency falls by kTransferLossPerAir for each unit of A
//
// with p the air pressure, U the speed of air that leaves the cap, A the mass of air to that of liquid (A0 =
// kDefaultAirToLiquid at the setting of the gun file; it is proportional to absolute pressure over flow).
// With distance the cone keeps its angle, so lengths grow in proportion and film falls as their product
// (pass_segment.h), and the finest droplets follow the air past the panel: transfer efficiency falls with the
// impaction share (droplet.h).
//
// Source: [rizk1984] (droplet: its first term), [unc-thesis] (transfer efficiency falls linearly with air to
//            liquid, measured on flat plates for HVLP guns; from its abstract); flow: own derivation,
//            geometry. kTransferLossPerAir, the pattern, taper and ring are starting values without source:
//            spray a pattern card and fit the gun to it.
// Holds for  p up to twice the stated pressure, distances from half to twice the reference
// Checks     tests/spray/flatten_test.cpp

inline constexpr double kDefaultAirToLiquid = 3;     // mass of air to mass of liquid
inline constexpr double kTransferLossPerAir = 0.03;  // share of transfer efficiency lost for each unit more

struct Settings {
    std::optional<Share> needle_opening;  // 1: fully open; above 0
    std::optional<Bar> air;               // ignored unless the gun file states its own
};

[[nodiscard]] Gun with_settings(const Gun& gun, const Settings& settings);

// The air jet of the gun's cap; where the file states neither tip nor air, a default (starting values).
[[nodiscard]] AirJet air_jet(const Gun& gun);
// The gun's droplets, with the default narrowness of sprayed paint (starting value).
[[nodiscard]] DropletSizes droplet_sizes(const Gun& gun);

// Transfer efficiency at that distance: the share of the sprayed paint that lands on an infinite panel.
[[nodiscard]] Share transfer_efficiency_at(const Gun& gun, Millimetres distance) noexcept;

}  // namespace fadewright::spray
