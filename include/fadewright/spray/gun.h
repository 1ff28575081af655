// Gun: a spray tool with its settings, and the splat of a single droplet.
//
// The spray layer calculates how much wet paint lands where. All its films are WET paint as sprayed, in
// micrometres of wet film, which is the same number as millilitres per square metre; the solids of the mix
// turn it into dry film elsewhere.
//
// Reading order of this layer: gun.h, settings.h (effect of needle, air and distance), footprint.h (paint of
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

}  // namespace fadewright::spray
