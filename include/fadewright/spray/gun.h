// The gun: a spray tool with its settings, and what a single droplet leaves behind.
//
// The spray layer answers one question: how much wet paint lands where. Everything it lays is WET paint as
// sprayed, in micrometres of wet film, which is the same number as millilitres per square metre; the solids
// of the mix turn it into dry film elsewhere.
//
// Reading order of this layer: gun.h, settings.h (what needle, air and distance do to it), footprint.h (where
// a still gun's paint lands), path.h (how the gun moves), curve.h and route.h (a movement as short straight
// pieces), stroke.h (one piece on a flat panel, in closed form), puff.h (one moment of a gun held anyhow over
// any surface), deposit.h (the film of all of them), outline.h, relief.h, mask.h and panel.h (the piece, and
// what lands on it), overlap.h (how even parallel passes are), droplet.h, drying.h and flow.h (what single
// droplets and wet films do). beta_curve.h serves footprint.h.
//
// A droplet of diameter d flattens to a splat beta_s times as wide. The mean wet thickness of the splats is
//
//     h_s = 2 d / (3 beta_s^2)
//
// with d the Sauter mean diameter, whatever the spread of sizes.
//
// Source: [scheller1995] (beta_s from measured paint drops); volume of a sphere spread over a disc: own
//            derivation.
// Holds for  splats that wet the ground at first touch; beta_s 1.5 to 3
// Checks     tests/spray/gun_test.cpp
#pragma once

#include "fadewright/base/quantity.h"

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
    Millimetres distance{150};       // nozzle to panel, at which the rest holds
    Millimetres sigma{12};           // round: spread of the bell
    Share ring;                      // round: share of the paint that lies in a ring about the middle
    Millimetres fan_width{200};      // fan, measured: whole length of the long axis, 2a
    Millimetres fan_thickness{50};   // fan, measured: whole length of the short axis, 2B
    double beta_across = 2;          // fan: taper along the long axis, at least 1
    double beta_along = 2;           // fan, measured: taper along the short axis, at least 1
    std::vector<double> profile;     // measured: film of one pass at even steps over the width, any scale
    MillilitresPerMinute flow{20};   // liquid leaving the gun, trigger fully open
    Share transfer_efficiency{0.6};  // of it that would land on an endless panel
    Micrometres droplet{30};         // Sauter mean diameter
    double splat_spread = 2;         // splat diameter over droplet diameter
    Millimetres nozzle;              // fluid tip; 0: not known
    Bar air;                         // 0: not known

    friend bool operator==(const Gun&, const Gun&) = default;
};

// Mean wet thickness of one splat.
[[nodiscard]] Micrometres wet_splat(const Gun& gun) noexcept;

}  // namespace fadewright::spray
