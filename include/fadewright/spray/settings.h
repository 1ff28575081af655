// What the needle, the air and the distance do to a gun.
//
// A gun file holds one setting: needle fully back, the usual air, the reference distance. From there
//
//     flow       F = F0 (1 - (1 - n)^2)      n how far the needle is drawn back: the ring that a cone leaves
//                                            open in a round hole
//     droplet    D = D0 (U0/U)^0.8 [(1 + 1/A) / (1 + 1/A0)]^0.4
//     pattern    width and depth grow as (p/p0)^0.2
//     taper      of a fan: b - 1 falls as (p0/p)^2: the fan fills out to its ends
//     ring       of a round pattern: (2/3) (p/p0 - 1) at most 1: flat-topped at twice the usual pressure
//     transfer   falls by kTransferPerAir for each unit of A
//
// with p the air pressure, U the speed of air that leaves the cap, A the mass of air to that of liquid (A0 =
// kUsualAir at the gun file's own setting; it follows absolute pressure over flow). With distance the cone
// keeps its angle, so lengths grow in proportion and film falls as their product (stroke.h), and the finest
// droplets follow the air past the panel: transfer falls with the share caught by impaction (droplet.h).
//
// Source: [rizk1984] (droplet: its first term), [unc-thesis] (transfer efficiency falls linearly with air to
//            liquid, measured on flat plates for HVLP guns; from its abstract); flow: own derivation,
//            geometry. kTransferPerAir, the pattern, taper and ring are starting values without source: spray
//            a pattern card and fit the gun to it.
// Holds for  p up to twice the usual pressure, distances from half to twice the reference
// Checks     tests/spray/settings_test.cpp
#pragma once

#include "fadewright/spray/droplet.h"
#include "fadewright/spray/gun.h"

#include <optional>

namespace fadewright::spray {

inline constexpr double kDefaultAirToLiquid = 3;     // mass of air to mass of liquid
inline constexpr double kTransferLossPerAir = 0.03;  // share of transfer lost for each unit more

struct Settings {
    std::optional<Share> needle_opening;  // drawn back, above 0
    std::optional<Bar> air;               // counts only if the gun file says its own
};

[[nodiscard]] Gun with_settings(const Gun& gun, const Settings& settings);

// The air that leaves the gun's cap; where the file says neither tip nor air, a usual one (starting values).
[[nodiscard]] AirJet air_jet(const Gun& gun);
// The gun's droplets, spread as those of sprayed paint usually are (starting value).
[[nodiscard]] DropletSizes droplet_sizes(const Gun& gun);

// Of the paint that leaves the gun, what lands on an endless panel at that distance.
[[nodiscard]] Share transfer_efficiency_at(const Gun& gun, Millimetres distance) noexcept;

}  // namespace fadewright::spray
