// The fade planner: one fade of the plan becomes ordinary coats and passes.
//
// The coordinate u runs across the fade: 0 on the midline, growing towards `to`. Over the width w, from u =
// -w/2 to w/2, the film of a colour builds from zero to full in one of four ramps:
//
//     perceptual  the colour changes evenly: colour differences add up along the growing film of the mix over
//                 what it fades out of, and the film follows them. 10 to 90 % of the visible change are
//                 within 0.8 w. The default, because strong paint hides long before its film is half full
//     linear      the film builds evenly; 10 to 90 % of it are within 0.8 w
//     smooth      the film builds as (1 - cos)/2; 10 to 90 % within 0.59 w
//     joint       all coats together: the colours follow the path from `from` to `to` that they take as one
//                 coat after another builds over the last, spread like a blurred edge (error function), whose
//                 ends run out beyond -w/2 and w/2 as far as the panel goes; 10 to 90 % of the visible change
//                 are within 0.8 w. For the methods over, under, mid-colours, burst, and coats that flow out
//
// For the joint ramp the passes of all coats are found in one fit to the target colours, with banding of
// lightness weighted most (colour/visibility.h), in the plan's light and viewing distance. They are
// chosen from lines at half the spacing that the overlap gives; those without effect are left out.
//
// The width of the gun's pattern rounds the corners of every ramp.
//
// The methods divide the width among the graded coats. With n of them, each has a ramp of width 2 w / (n + 1)
// that starts w / (n + 1) after the one before, so that neighbours cross at half film:
//
//     over         an even coat of `from`; `to` over it. Whether that is dark over light or light over dark
//                  depends on the colours
//     under        an even coat of `to`; `from` over it from its own side
//     fogged       as over, with half the width; then `from` and after it `to` fogged thinly across the
//                  middle, each from its own side
//     mid-colours  `from`; mixes of both ends, each with a ramp, ending again below the next but one; `to`
//     stepped      `to` at full strength and, reaching further each time, let down with clear base
//     glazed       `from`; thin coats of one transparent mix of `to`, stepping back
//     burst        as mid-colours, around an edge; the gun is tipped inwards and never sprays inside the
//                  midline
//
// Passes are on lines of equal u, spaced by the fade's overlap. Their amounts are the non-negative
// least-squares fit of the films that single passes leave (spray/deposit.h, with the coat's gun, distance and
// angle) to the target film; errors are weighted by their visibility, with a small cost on neighbours that
// differ. A pass then gets a speed that a hand can keep: at most kMaxSpeed, or else the flow is turned down,
// and at least half the gun's default speed, or else it is repeated. Speeds are rounded to kSpeedStep; passes
// that would hardly be visible are left out.
//
// Narrowest  an even film that stops at a line ends as softly as one pass: its 10 to 90 % is that of the
//            cumulative profile of a pass. A narrower ramp is not possible (rule P028)
// Source: common practice, no source (the methods); ramps and fit: own derivation.
// Holds for  a flat panel: a relief changes the film but not the passes
// Accuracy   film of a linear ramp within 4 % of full, where the ramp is at least twice the narrowest and the
//            overlap at least 2/3; within 5 % at 1.5 times the narrowest. The largest error is at the foot,
//            where a pass would be too thin to be worth spraying. The film of a perceptual ramp is most
//            accurate where it is thin; where it is full it may be a quarter too thick. It starts only where
//            a pass at kMaxSpeed with the flow turned down leaves no more than the target. Joint ramp,
//            overlap 80 %: 10 to 90 % within 10 % of the target with one or two mid colours
//            (tests/plans/tune)
// Checks     tests/planner/fade_test.cpp
#pragma once

#include "fadewright/plan/job_builder.h"
#include "fadewright/plan/library_files.h"
#include "fadewright/plan/plan.h"
#include "fadewright/text/diagnostic.h"

#include <cstddef>
#include <vector>

namespace fadewright::planner {

inline constexpr MillimetresPerSecond kMinSpeed{50};         // that a hand can keep; starting value
inline constexpr MillimetresPerSecond kMaxSpeed{1500};       // starting value
inline constexpr MillimetresPerSecond kSpeedStep{10};        // speeds are rounded to it
inline constexpr MillimetresPerSecond kFineSpeedBelow{200};  // below it, rounded to half of that

// 10 to 90 % of a ramp, as a share of its width: of the film, or of the visible change.
[[nodiscard]] double ten_to_ninety_share(plan::Ramp ramp) noexcept;

// A plan without fades.
struct ExpandedFades {
    plan::Plan plan;                      // coats and passes in place of fades
    std::vector<std::size_t> coat_index;  // of each of its coats: the coat of the plan as written
};

// Reports P003 and P007 of fades and P026 to P031. A fade that is not possible becomes even coats of its mixes,
// so that their names are still checked; if none of these rules was broken, the reason is found when those
// coats are resolved (job_builder.h).
[[nodiscard]] ExpandedFades expand_fades(const plan::Plan& plan, const plan::PlanContext& context,
                                         Diagnostics& diagnostics);

// Narrowest 10 to 90 % edge of an even film with the coat's gun, heeled by `tilt`.
[[nodiscard]] Millimetres min_edge_width(const plan::Coat& coat, const plan::LibraryGun& gun, Degrees tilt);

}  // namespace fadewright::planner
