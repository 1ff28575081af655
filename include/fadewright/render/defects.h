// Faults: what may go wrong with a job at the gun, coat by coat and place by place.
//
//     sag      wet film over the thickest that slides no more than kSlip before it sets (spray/flow.h)
//     dry      dry-spray index of what lands (spray/drying.h)
//     ripple   half the range of the film across parallel passes, over its mean
//     missed   share of the panel that a coat meant to cover leaves with less than half of its film
//     film     dry film of all coats, um
//     edge     film of a covering coat on convex edges, or in grooves, over that on level parts
//     flakes   of a coat with flakes, where it lies at least half as thick as it gets: patchiness (film/sparkle.h),
//              or crossings over those at which flakes begin to add milk, not colour
//
// Sag. The panel stands at its inclination, the relief leans it further; the pull down the surface counts. The
// liquid thickens by a factor e in kThickening at an evaporation of 1 and 20 C, faster in proportion to both.
// All of a coat is taken as wet at once.
//
// Dry. Droplets fly from the cap to the panel; where the film falls below kFringeFilm of the coat's greatest
// they have drifted kFringeDrift times as long, above kMiddleFilm not at all, between them evenly in the
// logarithms. Splats apart by d/sqrt(m) must flow over the gaps in the time that one droplet stays liquid:
// t_level is that of a ripple so long in the film there. Fog does not flow. Below kThinnest of the coat's
// greatest film nothing is judged. Every fade has a dry fringe: that is to be watched, and wrong only if more
// than kGrittyPanel of the panel is gritty and the coat is not meant as fog.
//
// Ripple. At least three straight passes that follow one another at one spacing are a train; trains over the
// same place add up, with their phases if they run alike. What the eye makes of it is the ripple times its
// response (film/grain.h) to so many stripes per degree, not less than kBroadStripes.
//
// A coat is meant to cover if at least kCovering of the panel has half or more of the film that a tenth of the
// panel exceeds. Places behind masks do not count.
//
// Symbols    d width of a splat, m splats over a point on average
// Source: common practice, no source (film budget and edge radius); limits and marks: own derivation,
//            starting values.
// Holds for  panels of which the outline holds something; liquids whose solvent and water leave side by side, each
//            as it would alone. Relief bends paint
//            (spray/puff.h), but wet paint that draws back from edges or runs into grooves is only warned of
// Accuracy   sampled on square cells; no figure depends on the number of threads
// Checks     tests/render/faults_test.cpp
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/frame.h"

#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::render {

enum class DefectKind { sag, dry_spray, striping, holidays, film_build, edge, flakes };
enum class Severity { ok, check, problem };

inline constexpr std::array kDefectKinds{DefectKind::sag,      DefectKind::dry_spray,  DefectKind::striping,
                                         DefectKind::holidays, DefectKind::film_build, DefectKind::edge,
                                         DefectKind::flakes};

[[nodiscard]] std::string_view defect_name(DefectKind kind) noexcept;  // one word
[[nodiscard]] std::string_view severity_name(Severity severity) noexcept;

struct Defect {
    DefectKind kind = DefectKind::sag;
    std::string coat;  // empty: all coats together
    double value = 0;  // in the kind's own measure, above
    double limit = 0;  // from here on it is wrong; for `edge` also from there down
    Severity severity = Severity::ok;
    Millimetres x, y;   // the worst place
    Share panel_share;  // where it is at least to be watched
    std::string text;
};

// How bad it is at every cell: below 1 fine, from 1 to be watched, from 2 wrong. One channel for each of
// kFaultKinds, of the worst coat; minus 1 beside the panel.
struct DefectMap {
    Frame frame;
    Image<float> scores;
};

struct Defects {
    std::vector<Defect> list;  // coat by coat, the whole panel last
    DefectMap map;
};

[[nodiscard]] Defects find_defects(const plan::Job& job);
[[nodiscard]] std::vector<Defect> list_defects(const plan::Job& job);

inline constexpr Millimetres kMaxSlip{5};
inline constexpr Seconds kThickeningTime{5};
inline constexpr double kSagCheck = 0.75;  // of the limit: to be watched

inline constexpr double kFringeFilm = 0.05, kCoreFilm = 0.5, kFringeDrift = 30;
inline constexpr double kMinFilmShare = 0.01;
inline constexpr Share kGrittyShareLimit{0.15};  // gritty over more than this of the panel: wrong

inline constexpr double kVisibleStriping = 0.01;  // ripple of film that shows about, to the eye at its best
inline constexpr double kObviousStriping = 0.04;
inline constexpr double kBroadStripeResponse = 0.2;

inline constexpr double kCoveringShare = 0.75;
inline constexpr Share kHolidaysCheck{0.001}, kHolidaysProblem{0.02};

inline constexpr Micrometres kMaxFilmBuild{200};  // dry, all coats
inline constexpr double kFilmBuildCheck = 0.75;

inline constexpr Millimetres kSharpEdgeRadius{2};  // radius below which wet paint draws back from an edge
inline constexpr double kThinEdge = 0.8, kBareEdge = 0.5, kHeavyGroove = 1.25, kFloodedGroove = 2;

// Time constant in which this liquid thickens in this air.
[[nodiscard]] Seconds thickening_time(const plan::SprayableMix& liquid, const plan::Booth& booth);

// From the horizontal: of a panel at `panel`, where its surface leans like that.
[[nodiscard]] Degrees surface_inclination(Degrees panel, const spray::SurfaceSample& surface) noexcept;

// The dry-spray index at a place with that wet film, of a sprayed coat with that greatest wet film.
[[nodiscard]] Share dry_spray_index(const plan::ResolvedCoat& coat, const plan::Booth& booth, Micrometres wet,
                                    Micrometres max_wet);

// Stripes of parallel passes.
struct Striping {
    Millimetres spacing;          // of the strongest train
    double half_range = 0;        // over the mean film
    spray::Box area{0, 0, 0, 0};  // where the passes lie
};
[[nodiscard]] std::vector<Striping> find_striping(const plan::ResolvedCoat& coat);
// Ripple that about shows from there.
[[nodiscard]] double striping_threshold(Millimetres spacing, Millimetres viewing_distance) noexcept;

}  // namespace fadewright::render
