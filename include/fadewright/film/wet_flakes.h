// Flakes in wet paint: settling in the cup, and how often to stir; orientation in a wet coat.
//
// A flake is a thin disc that sinks slowly through the liquid. Its weight less buoyancy is balanced by the
// drag, which depends on its orientation:
//
//     broadside   16 mu a U            edge on   32/3 mu a U
//     U           pi d h (rho_f - rho_l) g / (2 c mu),     c = 16 or 32/3
//     mean over random orientations   (U_broadside + 2 U_edge) / 3
//
// The top of the liquid clears by U t. Once the share kMaxSettledShare of the depth is clear, the rest of the
// cup holds noticeably more flakes than were weighed in, and it is time to stir:
//
//     t = kMaxSettledShare depth / U
//
// Symbols    a radius, d diameter, h thickness of a flake; mu viscosity; rho densities; U um/s
// Source: [happel1965], [oberbeck1876] (drag of a disc as the limit of spheroids); kMaxSettledShare and
//            kCupDepth: own derivation.
// Holds for  well separated flakes (crowded ones sink slower: at 3 % by volume by some 15 %), not flocculated
//            (flocs sink faster), in a liquid without yield stress (a paint that gels at rest holds them far
//            longer): the time of a thin, well dispersed paint
// Accuracy   drag within 3 % of a spheroid's for flakes 40 times as wide as thick
// Checks     tests/film/settling_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/paint/effect_pigment.h"

#include <span>

namespace fadewright::film {

// Drag over mu a U.
inline constexpr double kDragBroadside = 16;
inline constexpr double kDragEdgeOn = 32.0 / 3;

struct SettlingVelocity {
    double broadside_um_per_s = 0, edge_on_um_per_s = 0;  // negative: it rises
    [[nodiscard]] double mean_um_per_s() const noexcept {
        return (broadside_um_per_s + 2 * edge_on_um_per_s) / 3;
    }
};

// Viscosity above 0 (contract).
[[nodiscard]] SettlingVelocity settling_velocity(const paint::EffectPigment& flakes,
                                                 GramsPerMillilitre liquid, double viscosity_mPa_s);

inline constexpr Share kMaxSettledShare{0.05};
inline constexpr Millimetres kCupDepth{50};

// Infinite if nothing sinks. Of several kinds, the one that sinks fastest counts.
[[nodiscard]] Seconds stir_interval(std::span<const paint::EffectPigment> kinds, GramsPerMillilitre liquid,
                                    double viscosity_mPa_s, Millimetres depth = kCupDepth);

// Flake orientation in a coat sprayed wetter than usual: the tilt distribution widens with wet time.
//
// Shrinkage of the drying film pulls flakes flat. In a heavy wet coat they float and rotate for longer before
// the film fixes them: their tilts spread, the coat is darker near the highlight and lighter at the flop. A
// medium coat or a drier one has the tilt that the paint states.
//
//     w       wet time of the film:  wet film / evaporation rate of its solvent  (n-butyl acetate = 1)
//     w0      the same for one medium coat of the paint as poured (EffectPigment::nominal_wetness)
//     slope   tan(tilt) (1 + wet_disorientation max(0, w / w0 - 1))         clamped at kMaxTilt
//
// Symbols    tilt, wet_disorientation: members of paint::EffectPigment
// Source: common practice, no source: dry coats are bright, wet ones dark. The straight rise and its starting
//            value are our own derivation, uncalibrated: spray two cards and set `wet_disorientation`.
// Holds for  one coat sprayed wet in wet; of coats that flash off in between, each by its own wet film
// Checks     tests/film/flake_orientation_test.cpp

// Beyond it flakes are not nearly flat (film/flake_reflection.h); a paint that states more keeps its own.
inline constexpr Degrees kMaxTilt{20};

// wet_film and evaporation as sprayed; evaporation above 0 (contract).
[[nodiscard]] Degrees tilt_when_wet(const paint::EffectPigment& flakes, Micrometres wet_film,
                                    double evaporation = 1);

}  // namespace fadewright::film
