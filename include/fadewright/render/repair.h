// The repair of a spot: which coats lie there, how far out a new one has to fade away, how much to mix, and what
// cannot be touched up at all.
//
// A repair is never quite the old colour. With
//
//     dE     mismatch of the mixes made again, plus what the error of the laid films does (root of the sum of
//            squares over the coats), in dE00
//     lap    where the new coats run out over the old ones the colour goes another road: the furthest that the new
//            films over the finished old ones, under the clear, come from the old colour, in dE00
//     c      dE + lap as contrast dY / Y, as if all of it were lightness, for which the eye is keenest: dL* by
//            CIEDE2000, dY / Y by the slope of L* (colour/visibility.h)
//     slope  dY / Y per degree of a wide ramp just seen
//
// it shows no edge if it fades away evenly over
//
//     w = c / slope  degrees,
//
// and none at all if c is below the least step. Either all coats that are faded run out over w, or of n of them
// the k-th over w k / n, each further than the last: whichever laps less. The paint of a round spot of radius r
// whose film falls evenly to nothing over w is  film x (pi r^2 + pi w (r + w / 3)).
//
// What may be touched up (common practice, no source): a solid colour in a spot; flakes by blending the whole
// panel; a candy, transparent over something bright, over the whole panel or as far as the nearest edge; clear
// over the whole panel or to a break line. A solid whose fade would not fit on the panel is no spot either.
//
// Source: own derivation from [barten1999] (width) and [sharma2005] (S_L).
// Holds for  one eye at the plan's viewing distance, 100 cd/m2; a spot whose colour is even. A factor of two
//            either way, as thresholds are: a trained eye that looks for it needs twice the width. Laps are not
//            reckoned where candy or flakes lie, and a lap is taken to be as wide as the fade
// Accuracy   the fade's slope is the least one seen within 1e-9; its paint is exact; laps within 2 %
// Checks     tests/render/repair_test.cpp
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/plan/actuals.h"
#include "fadewright/plan/amounts.h"
#include "fadewright/plan/job.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::render {

// Starting values without source, to be replaced by what your own cards show.
inline constexpr double kDefaultMismatch = 1.0;  // dE00 of a mix weighed again
inline constexpr Share kDefaultFilmError{0.15};  // of a film laid again by counting passes
inline constexpr double kBrightGround_L = 50;    // L* under a candy from which it counts as one

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
    Micrometres film, min_film, max_film;  // in its middle, and over the damage
    int readings = 0;                      // of its film in the record
    double film_dE = 0;                    // by the error of its film
    Millimetres fade_width;                // beyond the damage, to nothing; a spot's
    Millilitres landed;                    // wet
    Millilitres lost;                      // into the air and past the piece
};

struct RepairMix {
    std::string name;
    std::vector<std::string> coats;
    std::string mixed_on;             // date of the recorded mix; empty: as planned
    bool reducer_as_planned = false;  // though the rest is as recorded
    Millilitres landed, lost, cards, left_in_gun, waste;
    Millilitres to_mix;             // no less than `needed`, and so much that the scale can weigh every part
    bool raised_for_scale = false;  // then it is more than needed
    std::vector<plan::RecipeLine> recipe_lines;

    [[nodiscard]] Millilitres needed() const { return landed + lost + cards + left_in_gun + waste; }
};

struct Repair {
    RepairRequest request;
    colour::Lab lab;                          // there, now
    Millimetres nearest_edge, farthest_edge;  // from the middle to the nearest and the furthest outline
    double dE = 0;                            // mismatch and films
    double lap_dE = 0;                        // furthest from the old colour in the fade
    bool stepped = false;                     // each coat reaches further than the last; else all equally far
    double contrast = 0;                      // c
    Millimetres fade_width;                   // w; 0: no edge would be seen
    bool fits = true;                         // damage and fade lie on the panel
    std::vector<RepairCoat> coats;            // that lie there, from below
    std::vector<RepairMix> mixes;             // in the order of their first coats
    std::vector<std::string> remarks;
};

// w of a difference seen from that distance, at that lightness; 0 if even a sharp edge is not seen.
[[nodiscard]] Millimetres invisible_fade_width(double dE00, double L, Millimetres view_distance);

// Dry paint of the spot, film x area: um mm2 / 1e6.
[[nodiscard]] Millilitres spot_paint(Micrometres film, Millimetres diameter, Millimetres fade_width);

// `plan` has coats and passes instead of fades, and `job` is made of it. The place lies on the panel (contract).
[[nodiscard]] Repair repair(const plan::Plan& plan, const plan::Job& job, plan::Library& library,
                            const plan::JobLog* record, const RepairRequest& request);

}  // namespace fadewright::render
