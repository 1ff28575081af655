// How long to wait after a coat: a simple model of a drying film, to be replaced by what your paint really does.
//
// The volatile part leaves the open film as fast as the air carries it off, until the film no longer flows;
// what is left then has to find its way out of the film itself:
//
//     E       = K / (8 delta)                     um of liquid in a second
//     flash   = T (1 - VS / phi) / E              the film has stopped flowing
//     recoat  = flash + kThrough x dry film x K0 / K
//     tape    = kTape x recoat
//
// with K of the droplets of the same liquid in the same air (spray/drying.h), phi the solids at which it
// stiffens, and delta the still air over a plate of kPlate: delta = kPlate / (0.664 sqrt(Re)).
//
// Symbols    T wet film; VS solids; K0 of n-butyl acetate at 21 C; Re = speed x kPlate / viscosity of air
// Source: [blasius1908], [pohlhausen1921] (plate), vapour taken to spread as fast as momentum. kThrough and
//            kTape are chosen so that a usual colour coat at 21 C takes 30 to 45 min to the next step and
//            about an hour to masking: common practice, no source.
// Holds for  lacquers and waterborne paints that dry by evaporation, on ground as warm as the air; two-pack
//            paint cures by its own clock: go by its data sheet. Still air counts as kStillest
// Checks     tests/plan/waits_test.cpp
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/plan/plan.h"

namespace fadewright::plan {

struct DryTimes {
    Seconds flash;   // before more of the same coat
    Seconds recoat;  // before another coat
    Seconds tape;    // before masking over it
};

inline constexpr Millimetres kPlateLength{300};
inline constexpr MillimetresPerSecond kMinAirSpeed{100};
inline constexpr double kThroughDry_s_per_um = 180;
inline constexpr double kTapeOverRecoat = 1.75;

// Infinite where nothing evaporates: water in saturated air.
[[nodiscard]] DryTimes dry_times(const SprayableMix& mix, Micrometres dry, const Booth& booth,
                                 MillimetresPerSecond air_speed);

// The same for a coat of a job, with what the plan says instead.
[[nodiscard]] DryTimes dry_times(const ResolvedCoat& coat, Micrometres dry, const Booth& booth,
                                 const ShopSettings& mixing);

}  // namespace fadewright::plan
