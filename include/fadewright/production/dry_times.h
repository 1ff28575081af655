// Drying times after a coat: a simple model of a drying film, to be replaced by measured times.
//
// The volatiles evaporate from the open film at the rate of mass transfer to the air, until the film no
// longer flows; the rest has to diffuse through the film:
//
//     E       = K / (8 delta)                     um of liquid per second
//     flash   = T (1 - VS / phi) / E              the film has stopped flowing
//     recoat  = flash + kThroughDry x dry film x K0 / K
//     tape    = kTapeOverRecoat x recoat
//
// with K that of droplets of the same liquid in the same air (spray/drying.h), phi the solids at which the
// film stiffens, and delta the boundary layer of a plate of length kPlateLength:
// delta = kPlateLength / (0.664 sqrt(Re)).
//
// Symbols    T wet film; VS solids; K0 of n-butyl acetate at 21 C; Re = air speed x kPlateLength / viscosity
//            of air
// Source: [blasius1908], [pohlhausen1921] (plate), vapour taken to spread as fast as momentum. kThrough and
//            kTape are chosen so that a usual colour coat at 21 C takes 30 to 45 min to the next step and
//            about an hour to masking: common practice, no source.
// Holds for  lacquers and waterborne paints that dry by evaporation, on a substrate as warm as the air; for
//            two-pack paint follow the technical data sheet. Air slower than kMinAirSpeed counts as
//            kMinAirSpeed
// Checks     tests/production/dry_times_test.cpp
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/plan/plan.h"

namespace fadewright::production {

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
[[nodiscard]] DryTimes dry_times(const plan::SprayableMix& mix, Micrometres dry, const plan::Booth& booth,
                                 MillimetresPerSecond air_speed);

// The same for a coat of a job; times given in the plan override the model.
[[nodiscard]] DryTimes dry_times(const plan::ResolvedCoat& coat, Micrometres dry, const plan::Booth& booth,
                                 const plan::ShopSettings& mixing);

}  // namespace fadewright::production
