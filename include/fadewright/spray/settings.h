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
#pragma once

#include "fadewright/spray/droplet.h"
#include "fadewright/spray/gun.h"

#include <optional>

namespace fadewright::spray {

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
