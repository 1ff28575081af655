// Spot repair: the coats at a point, how far each new coat has to be blended out, how much to mix, and which
// coats cannot be spot-repaired at all.
//
// A repair is never exactly the old colour. With
//
//     dE     mismatch of the remade mixes, plus the effect of the film errors (root of the sum of squares
//            over the coats), in dE00
//     lap    in the blend area the new coats run out over the old ones, through other colours: the maximum
//            difference of the new films over the finished old ones, under the clear, from the old colour, in
//            dE00
//     c      dE + lap as contrast dY / Y, as if all of it were lightness, to which the eye is most sensitive:
//            dL* by CIEDE2000, dY / Y by the slope of L* (colour/visibility.h)
//     slope  threshold slope of a wide ramp, dY / Y per degree
//
// no edge is visible if the repair is blended out evenly over
//
//     w = c / slope  degrees,
//
// and none at all if c is below the threshold step. Either all faded coats run out over w, or the k-th of n
// of them over w k / n, each further than the last: whichever gives the smaller lap. The paint of a round
// spot of radius r whose film falls linearly to nothing over w is  film x (pi r^2 + pi w (r + w / 3)).
//
// What can be repaired (common practice, no source): a solid colour in a spot; flakes by blending the whole
// panel; a candy, transparent over something bright, over the whole panel or as far as the nearest edge;
// clear over the whole panel or to a break line. A solid whose blend does not fit on the panel is not a spot
// repair either.
//
// Source: own derivation from [barten1999] (width) and [sharma2005] (S_L).
// Holds for  one viewer at the plan's viewing distance, 100 cd/m2; a spot of even colour. A factor of two
//            either way, as for all thresholds: a trained eye that looks for it needs twice the width. Laps
//            are not calculated where there is candy or flakes, and a lap is assumed to be as wide as the
//            blend
// Accuracy   the slope of the blend is the threshold slope within 1e-9; its paint is exact; laps within 2 %
// Checks     tests/assess/repair_test.cpp
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/plan/job.h"
#include "fadewright/production/actuals.h"
#include "fadewright/production/amounts.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::assess {

// Starting values without source, to be replaced by the results of your own spray-out cards.
inline constexpr double kDefaultMismatch = 1.0;  // dE00 of a remade mix
inline constexpr Share kDefaultFilmError{0.15};  // of a film resprayed by counting passes
inline constexpr double kBrightGround_L = 50;    // L* of the ground of a candy, at least

struct RepairRequest {
    plan::Point point;
    Millimetres diameter{60};  // of the damage, round
    double mismatch = kDefaultMismatch;
    Share film_error = kDefaultFilmError;
};

enum class CoatKind { solid, transparent, candy, effect, clear };
enum class Extent { spot, panel };

struct RepairCoat {
    std::string name, mix;
    std::size_t index = 0;  // in the job
    CoatKind kind = CoatKind::solid;
    Extent extent = Extent::spot;
    Micrometres film, min_film, max_film;  // at its centre, and over the damage
    int readings = 0;                      // of its film in the job log
    double film_dE = 0;                    // by its film error
    Millimetres fade_width;                // from the damage to zero film; of a spot
    Millilitres landed;                    // wet
    Millilitres lost;                      // overspray and past the edge
};

struct RepairMix {
    std::string name;
    std::vector<std::string> coats;
    std::string mixed_on;             // date of the mix in the job log; empty: as planned
    bool reducer_as_planned = false;  // while the rest is as in the job log
    Millilitres landed, lost, cards, left_in_gun, waste;
    Millilitres to_mix;             // at least needed(), and enough for the scale to weigh every part
    bool raised_for_scale = false;  // to_mix exceeds needed() for this reason
    std::vector<production::RecipeLine> recipe_lines;

    [[nodiscard]] Millilitres needed() const { return landed + lost + cards + left_in_gun + waste; }
};

struct Repair {
    RepairRequest request;
    colour::Lab lab;                          // at the point, before the repair
    Millimetres nearest_edge, farthest_edge;  // from the point to the nearest and the farthest edge
    double dE = 0;                            // mismatch and film errors
    double lap_dE = 0;                        // maximum difference from the old colour in the blend area
    bool stepped = false;                     // each coat reaches further than the last
    double contrast = 0;                      // c
    Millimetres fade_width;                   // w; 0: no visible edge
    bool fits = true;                         // damage and blend area are on the panel
    std::vector<RepairCoat> coats;            // at the point, from below
    std::vector<RepairMix> mixes;             // in the order of their first coats
    std::vector<production::UnknownPart> unknown_parts;  // of the job log
};

// w for a colour difference at that lightness and viewing distance; 0 if even a sharp edge is invisible.
[[nodiscard]] Millimetres invisible_fade_width(double dE00, double L, Millimetres view_distance);

// Dry paint of the spot, film x area: um mm2 / 1e6.
[[nodiscard]] Millilitres spot_paint(Micrometres film, Millimetres diameter, Millimetres fade_width);

// `plan` is expanded (coats and passes instead of fades), `job` is resolved from it. The point is on the
// panel (contract).
[[nodiscard]] Repair repair(const plan::Plan& plan, const plan::Job& job, plan::Library& library,
                            const production::JobLog* record, const RepairRequest& request);

}  // namespace fadewright::assess
