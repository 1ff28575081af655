// The fade: one thing in the plan that becomes ordinary coats and passes.
//
// Across a fade runs the way u, 0 on the halfway line and growing towards `to`. Over the width w, from
// u = -w/2 to w/2, a colour grows from nothing to its full film in one of four ways:
//
//     seen   so that the colour changes evenly: colour differences add up along the growing film of the mix
//            over what it fades out of, and the film follows them. 10 to 90 % of what is seen lie within
//            0.8 w. The usual way, because strong paint hides long before its film is half full
//     even   the film itself grows evenly; 10 to 90 % of it lie within 0.8 w
//     soft   the film grows as (1 - cos)/2; 10 to 90 % within 0.59 w
//     road   all coats together: the colours run from `from` to `to` along the road that they take as one coat
//            after another grows over the last, spread as a blurred edge (error function), whose ends run out
//            beyond -w/2 and w/2 as far as the panel goes; 10 to 90 % of what is seen lie within 0.8 w. For the
//            methods over, under, middles, burst, and coats that flow together
//
// Along the road the passes of all coats are found in one fit to the wished colours, stripes of lightness counting
// most (colour/stripes.h), as seen in the plan's light and from its distance. They are chosen from lines that lie
// twice as close as the overlap says; those that do no good are left out.
//
// The gun rounds the corners of every ramp by itself.
//
// The methods share the width among the graded coats. With n of them, each has a ramp of width 2 w / (n + 1)
// that begins w / (n + 1) after the one before, so that neighbours cross halfway up:
//
//     over         an even coat of `from`; `to` over it. Whether that is dark over light or light over dark
//                  follows from the colours
//     under        an even coat of `to`; `from` over it from its own side
//     two-sided    as over, with half the width; then `from` and after it `to` fogged thinly across the
//                  middle, each from its own side
//     middles      `from`; mixes of both ends, each with a ramp, ending again below the next but one; `to`
//     stepped      `to` at full strength and, reaching further each time, let down with clear base
//     transparent  `from`; thin layers of one transparent mix of `to`, stepping back
//     burst        as middles, around a rim; the gun leans inwards and aims nowhere inside the halfway line
//
// Passes lie on lines of equal u, the fade's overlap apart. Their amounts are the non-negative least-squares
// fit of what single passes really leave (spray/deposit.h, at the coat's gun, distance and tilt) to the
// wished film, an error counting for as much as it is seen, with a small cost on neighbours that differ. A
// pass then gets a speed that a hand can keep: at most kFastest, else the flow is turned down, and at least
// half the gun's usual speed, else it is repeated. Speeds are rounded to kSpeedStep; passes that would
// hardly be seen are left out.
//
// Narrowest  an even film that stops at a line ends as softly as one pass does: its 10 to 90 % is that of the
//            running sum of a pass. A ramp whose own 10 to 90 % is less cannot be made (rule P028)
// Source: common practice, no source (the methods); ramps and fit: own derivation.
// Holds for  a flat panel: a relief changes the film but not the passes
// Accuracy   film of an even ramp within 4 % of full of the wished, where the ramp is at least twice the
//            narrowest and the overlap at least 2/3; within 5 % at 1.5 times the narrowest. Most is missing
//            at the foot, where a pass would be too thin to be worth laying. A seen ramp's film
//            is kept most closely where it is thin; where it is full it may be a quarter too thick. It begins
//            only where a pass at kFastest with the flow turned down leaves no more than is wished. Along a road,
//            overlap 80 %: 10 to 90 % within 10 % of the wished with one or two middles (tests/plans/tune)
// Checks     tests/plan/fade_test.cpp
#pragma once

#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"

#include <optional>
#include <string>

namespace fadewright::plan {

inline constexpr MillimetresPerSecond kMinSpeed{50};         // that a hand keeps evenly; starting value
inline constexpr MillimetresPerSecond kMaxSpeed{1500};       // starting value
inline constexpr MillimetresPerSecond kSpeedStep{10};        // of round speeds
inline constexpr MillimetresPerSecond kFineSpeedBelow{200};  // where they are rounded to half of that

// The same plan with coats and passes instead of fades. If a fade cannot be made that is reported.
[[nodiscard]] std::optional<Plan> expand_fades(const Plan& plan, Library& library, Diagnostics& diagnostics);

// For ready_job(): fades that cannot be worked out leave even coats of their mixes, so that whatever else is
// wrong is found in the same run; the reason is reported here or will be when those coats are made ready.
[[nodiscard]] Plan expand_fades_leniently(const Plan& plan, Library& library, Diagnostics& diagnostics);

// Narrowest 10 to 90 % that the coat's gun gives to the end of an even film, leaned over by `tilt`;
// nothing if there is no such gun.
[[nodiscard]] std::optional<Millimetres> min_edge_width(const Coat& coat, const std::string& gun,
                                                        Degrees tilt, Library& library);

// The plan as a painter would write it: what is as it is anyway is left out. Reads back equal.
[[nodiscard]] std::string plan_text(const Plan& plan);

}  // namespace fadewright::plan
