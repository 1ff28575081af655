// Gun movements and fades, as the painter writes them.
//
// Part of the plan (plan.h); movement_schema.h lists the fields.
#pragma once

#include "fadewright/plan/workpiece.h"

namespace fadewright::plan {

// Gun motion, for every kind of path (spray/path.h). Absent values are the coat's, then the gun's.
struct GunMotion {
    std::optional<MillimetresPerSecond> speed;
    std::vector<MillimetresPerSecond> speeds;
    std::optional<Millimetres> distance;
    std::vector<Millimetres> distances;
    Millimetres arc_radius;
    Degrees heel_angle, lead_angle;
    Millimetres run_up, run_down;
    int repeats = 1;
    Millimetres feather_on, feather_off;
    Millimetres overrun;
    std::optional<Millimetres> trigger_on, trigger_off;

    friend bool operator==(const GunMotion&, const GunMotion&) = default;
};

// Part of a circle.
struct Arc {
    Point centre;
    Millimetres radius;
    Degrees from, to;
    friend bool operator==(const Arc&, const Arc&) = default;
};

// One movement of the gun; a single point is a spot of length `dwell`.
struct Pass : GunMotion {
    std::vector<Point> path;
    bool smooth = false;
    std::optional<Arc> arc;
    std::optional<Seconds> dwell;
    Degrees fan_angle;
    SourceSpan span;

    friend bool operator==(const Pass& a, const Pass& b) {
        return static_cast<const GunMotion&>(a) == b && a.path == b.path && a.smooth == b.smooth &&
               a.arc == b.arc && a.dwell == b.dwell && a.fan_angle == b.fan_angle;
    }
};

// Parallel passes over a rectangle.
struct Sweep : GunMotion {
    Point from, to;
    Share overlap{0.5};
    Degrees direction;
    bool cross = false;
    Share offset;
    SourceSpan span;

    friend bool operator==(const Sweep& a, const Sweep& b) {
        return static_cast<const GunMotion&>(a) == b && a.from == b.from && a.to == b.to &&
               a.overlap == b.overlap && a.direction == b.direction && a.cross == b.cross &&
               a.offset == b.offset;
    }
};

// Contour passes along a line, at an offset: the panel's outline, a shape, or a path.
struct OutlinePass : GunMotion {
    std::optional<Shape> shape;
    std::vector<Point> path;
    bool smooth = false;
    Millimetres offset;  // positive: outwards; from a path: to its left
    SourceSpan span;

    friend bool operator==(const OutlinePass& a, const OutlinePass& b) {
        return static_cast<const GunMotion&>(a) == b && a.shape == b.shape && a.path == b.path &&
               a.smooth == b.smooth && a.offset == b.offset;
    }
};

// Methods of fading one colour into another (planner/fade.h).
enum class FadeMethod { over, under, fogged, mid_colours, stepped, glazed, burst };

// How the film builds across a fade (planner/fade.h): even colour change, even film, smooth ends, or all coats
// solved jointly.
enum class Ramp { perceptual, linear, smooth, joint };

// What a coat is in the fade that it was made for: the even coat below, a mid colour, an extended or thinned
// step, a transparent layer, fog, or one of the two ends.
enum class FadeRole { none, base, mid_colour, step, glaze, fog, end };

// A fade from one mix to another; planner/fade.h turns it into coats and passes. Its position is given in one of
// three ways: from `start` to `end`, along a path, or around an edge.
struct Fade {
    Located<std::string> from, to;
    FadeMethod method = FadeMethod::over;
    Micrometres film;                      // of every colour at full strength
    bool base_coat = true;                 // spray an even coat below
    std::optional<Micrometres> base_film;  // of that coat; default: `film`
    std::optional<Point> start, end;
    std::vector<Point> path;  // the midline; `to` is on its left
    bool smooth = false;
    std::optional<Shape> shape;         // the edge; default: the panel's outline
    std::optional<Millimetres> inward;  // of the midline from the edge
    bool inside = false;                // `to` is in the centre; false: at the edge
    std::optional<Millimetres> width;   // with a path or an edge
    Ramp ramp = Ramp::perceptual;
    Share overlap{0.75};
    std::optional<int> mid_colours;   // mixes between `from` and `to`
    std::optional<double> mid_ratio;  // parts of `to` per part of `from` in the middle mix
    std::optional<int> steps;         // stepped: cups; glazed: coats
    std::optional<Share> step_down;   // of the cup, replaced with clear base at every step
    std::optional<double> extend;
    std::optional<Share> reduce;
    std::optional<Share> fog;           // film of each fog coat, as a share of `film`
    std::optional<Degrees> heel_angle;  // of the gun towards the panel
    std::vector<Located<std::string>> guns;
    SourceSpan span;

    friend bool operator==(const Fade& a, const Fade& b) {
        return a.from == b.from && a.to == b.to && a.method == b.method && a.film == b.film &&
               a.base_coat == b.base_coat && a.base_film == b.base_film && a.start == b.start &&
               a.end == b.end && a.path == b.path && a.smooth == b.smooth && a.shape == b.shape &&
               a.inward == b.inward && a.inside == b.inside && a.width == b.width && a.ramp == b.ramp &&
               a.overlap == b.overlap && a.mid_colours == b.mid_colours && a.mid_ratio == b.mid_ratio &&
               a.steps == b.steps && a.step_down == b.step_down && a.extend == b.extend &&
               a.reduce == b.reduce && a.fog == b.fog && a.heel_angle == b.heel_angle && a.guns == b.guns;
    }
};

}  // namespace fadewright::plan
