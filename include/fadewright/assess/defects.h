// Coating defects predicted for a job, coat by coat and point by point.
//
//     sag         wet film over the thickest film that sags no more than kMaxSlip before it sets
//                 (spray/sag_levelling.h)
//     dry spray   dry-spray index of the paint that lands (spray/drying.h)
//     striping    half the range of the film across parallel passes, over its mean (striping.h)
//     holidays    share of the panel where a coat that is meant to cover leaves less than half of its film
//     film build  dry film of all coats, um
//     edge        film of a covering coat on convex edges, or in grooves, over that on level areas
//     flakes      of a coat with flakes, where it is at least half as thick as its maximum: patchiness
//                 (film/sparkle.h), or flake layers over the number from which more flakes add whiteness, not
//                 colour
//
// Sag. The panel stands at the angle at which it is sprayed; relief tilts the surface further. Gravity counts
// by its component down the surface. The liquid thickens by a factor e in kThickeningTime at an evaporation
// rate of 1 and 20 C, faster in proportion to both. The whole coat is taken as wet at once.
//
// Dry spray. Droplets fly from the air cap to the panel. Where the film is below kFringeFilm of the coat's
// maximum they have drifted kFringeDrift times as long, above kCoreFilm not at all, and in between linearly
// in the logarithms. Splats d/sqrt(m) apart must flow over the gaps within the open time of one droplet:
// t_level is that of a ripple of this length in the film at that point. Dots do not flow. Below kMinFilmShare
// of the coat's maximum film nothing is assessed. Every fade has a dry fringe: that is a check, and a problem
// only if more than kGrittyShareLimit of the panel is gritty and the coat is not meant as dots.
//
// A coat is meant to cover if at least kCoveringShare of the panel has half or more of the film that 10 % of
// the panel exceed. Points behind masks do not count.
//
// Symbols    d width of a splat, m mean number of splats over a point
// Source: common practice, no source (film budget and edge radius); limits and marks: own derivation,
//            starting values.
// Holds for  panels whose outline encloses an area; liquids whose solvent and water evaporate independently.
//            Relief deflects the spray (spray/puff.h), but the flow of wet paint away from edges or into
//            grooves is only warned of
// Accuracy   sampled on square cells; independent of the number of threads
// Checks     tests/assess/defects_test.cpp
#pragma once

#include "fadewright/assess/striping.h"
#include "fadewright/base/image.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/frame.h"

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace fadewright::assess {

enum class DefectKind { sag, dry_spray, striping, holidays, film_build, edge, flakes };
enum class Severity { ok, check, problem };

inline constexpr std::array kDefectKinds{DefectKind::sag,      DefectKind::dry_spray,  DefectKind::striping,
                                         DefectKind::holidays, DefectKind::film_build, DefectKind::edge,
                                         DefectKind::flakes};

[[nodiscard]] std::string_view defect_name(DefectKind kind) noexcept;  // words joined by hyphens, in files
[[nodiscard]] std::string_view severity_name(Severity severity) noexcept;

// More about a defect, by its kind; film build has no more than its value.
struct SagFigures {
    Micrometres wet;                 // at the worst point
    MillimetresPerSecond speed;      // of the surface there, at first
    bool viscosity_assumed = false;  // no flow cup time was given
    friend bool operator==(const SagFigures&, const SagFigures&) = default;
};
struct DrySprayFigures {
    double dry_mm2 = 0;                       // area over the warning limit; 0: it lands wet everywhere
    std::optional<Millimetres> fringe_width;  // of that area, if it has a boundary
    Share gritty;                             // of the panel
    plan::Laydown laydown = plan::Laydown::wet;
    friend bool operator==(const DrySprayFigures&, const DrySprayFigures&) = default;
};
struct StripingFigures {
    Millimetres spacing, viewing_distance;
    friend bool operator==(const StripingFigures&, const StripingFigures&) = default;
};
struct HolidayFigures {
    std::optional<Micrometres> thinnest;  // dry; nothing if the coat covers everywhere
    Micrometres full;                     // dry
    friend bool operator==(const HolidayFigures&, const HolidayFigures&) = default;
};
enum class EdgePart { edges, grooves };
struct EdgeFigures {
    EdgePart part = EdgePart::edges;
    friend bool operator==(const EdgeFigures&, const EdgeFigures&) = default;
};
enum class FlakeDefect { milky, patchy, barely_covering };
struct FlakeFigures {
    FlakeDefect defect = FlakeDefect::barely_covering;
    double layers = 0;  // flakes on a line through the film, on average; if milky, those that transmit light
    friend bool operator==(const FlakeFigures&, const FlakeFigures&) = default;
};
using DefectFigures = std::variant<std::monostate, SagFigures, DrySprayFigures, StripingFigures,
                                   HolidayFigures, EdgeFigures, FlakeFigures>;

struct Defect {
    DefectKind kind = DefectKind::sag;
    std::string coat;  // empty: all coats together
    double value = 0;  // the figure of its kind, see above
    double limit = 0;  // a problem from this value on; for `edge` also below its own limit
    Severity severity = Severity::ok;
    Millimetres x, y;   // the worst point
    Share panel_share;  // area with severity check or problem
    DefectFigures figures;
};

// Severity score of every cell: below 1 ok, from 1 check, from 2 problem. One channel for each of
// kDefectKinds, of the worst coat; -1 off the panel.
struct DefectMap {
    render::Frame frame;
    Image<float> scores;
};

struct Defects {
    std::vector<Defect> list;  // coat by coat; of all coats together last
    DefectMap map;
};

[[nodiscard]] Defects find_defects(const plan::Job& job);
[[nodiscard]] std::vector<Defect> list_defects(const plan::Job& job);

inline constexpr Millimetres kMaxSlip{5};
inline constexpr Seconds kThickeningTime{5};
inline constexpr double kSagCheck = 0.75;  // share of the limit from which sag is a check

inline constexpr double kFringeFilm = 0.05, kCoreFilm = 0.5, kFringeDrift = 30;
inline constexpr double kMinFilmShare = 0.01;
inline constexpr Share kGrittyShareLimit{0.15};  // a problem if more of the panel is gritty

inline constexpr double kCoveringShare = 0.75;
inline constexpr Share kHolidaysCheck{0.001}, kHolidaysProblem{0.02};

inline constexpr Micrometres kMaxFilmBuild{200};  // dry, all coats
inline constexpr double kFilmBuildCheck = 0.75;

inline constexpr Millimetres kSharpEdgeRadius{2};  // radius below which wet paint draws back from an edge
// Flake layers from which more of them add whiteness, not colour: over dark grounds the chroma of titania on
// mica stops rising there (tests/film/pearl_test.cpp).
inline constexpr double kMaxPlateletHits = 3.7;

inline constexpr double kThinEdge = 0.8, kBareEdge = 0.5, kHeavyGroove = 1.25, kFloodedGroove = 2;

// Time in which this liquid thickens by a factor e in this air.
[[nodiscard]] Seconds thickening_time(const plan::SprayableMix& liquid, const plan::Booth& booth);

// Angle to the horizontal of a surface with this slope, on a panel at the angle `panel`.
[[nodiscard]] Degrees surface_inclination(Degrees panel, const spray::SurfaceSample& surface) noexcept;

// Dry-spray index at a point with the wet film `wet`, of a sprayed coat with the maximum wet film `max_wet`.
[[nodiscard]] Share dry_spray_index(const plan::ResolvedCoat& coat, const plan::Booth& booth, Micrometres wet,
                                    Micrometres max_wet);

}  // namespace fadewright::assess
