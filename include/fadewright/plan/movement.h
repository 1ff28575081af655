// How the gun moves and how one colour becomes another, as the painter writes it.
//
// Part of the plan (plan.h); movement_schema.h lists the fields.
#pragma once

#include "fadewright/plan/piece.h"

namespace fadewright::plan {

// What the hand does, whatever the way (spray/path.h). What is absent is the coat's, then the gun's own.
struct Hand {
    std::optional<MillimetresPerSecond> speed;
    std::vector<MillimetresPerSecond> speeds;
    std::optional<Millimetres> distance;
    std::vector<Millimetres> distances;
    Millimetres swing;
    Degrees tilt, lean;
    Millimetres run_up, run_down;
    int repeats = 1;
    Millimetres feather_on, feather_off;
    Millimetres overrun;
    std::optional<Millimetres> opens, closes;

    friend bool operator==(const Hand&, const Hand&) = default;
};

// Part of a circle.
struct Arc {
    Point centre;
    Millimetres radius;
    Degrees from, to;
    friend bool operator==(const Arc&, const Arc&) = default;
};

// One movement of the gun; a single point is a still burst of `dwell`.
struct Pass : Hand {
    std::vector<Point> path;
    bool smooth = false;
    std::optional<Arc> arc;
    std::optional<Seconds> dwell;
    Degrees turn;
    Place place;

    friend bool operator==(const Pass& a, const Pass& b) {
        return static_cast<const Hand&>(a) == b && a.path == b.path && a.smooth == b.smooth &&
               a.arc == b.arc && a.dwell == b.dwell && a.turn == b.turn;
    }
};

// Parallel passes over a rectangle.
struct Sweep : Hand {
    Point from, to;
    Share overlap{0.5};
    Degrees direction;
    bool cross = false;
    Share offset;
    Place place;

    friend bool operator==(const Sweep& a, const Sweep& b) {
        return static_cast<const Hand&>(a) == b && a.from == b.from && a.to == b.to &&
               a.overlap == b.overlap && a.direction == b.direction && a.cross == b.cross &&
               a.offset == b.offset;
    }
};

// Passes along a line, at an offset: the panel's outline, a shape's, or a line of its own.
struct Follow : Hand {
    std::optional<Shape> shape;
    std::vector<Point> path;
    bool smooth = false;
    Millimetres offset;  // outwards; from a path: to its left
    Place place;

    friend bool operator==(const Follow& a, const Follow& b) {
        return static_cast<const Hand&>(a) == b && a.shape == b.shape && a.path == b.path &&
               a.smooth == b.smooth && a.offset == b.offset;
    }
};

// The ways in which one colour is faded into another (plan/fade.h).
enum class FadeMethod { over, under, two_sided, middles, stepped, transparent, burst };

// How the film grows across a fade: as the eye has it, evenly, with soft ends; or all films together, along the
// road of the fade's colours.
enum class Ramp { seen, even, soft, road };

// A change from one mix to another as one thing; plan/fade.h makes coats and passes of it. Where it runs is
// said in one of three ways: from `start` to `end`, along a path, or around a rim.
struct Fade {
    Placed<std::string> from, to;
    FadeMethod method = FadeMethod::over;
    Micrometres film;                       // of every colour where it is full
    bool lay_first = true;                  // an even coat of what lies beneath
    std::optional<Micrometres> first_film;  // of that coat; else `film`
    std::optional<Point> start, end;
    std::vector<Point> path;  // the halfway line; `to` lies to its left
    bool smooth = false;
    std::optional<Shape> shape;         // the rim; else the panel's outline
    std::optional<Millimetres> inward;  // of the halfway line from the rim
    bool inside = false;                // `to` lies in the middle; else at the rim
    std::optional<Millimetres> width;   // with a path or a rim
    Ramp ramp = Ramp::seen;
    Share overlap{0.75};
    std::optional<int> middles;          // middle mixes
    std::optional<double> middle_ratio;  // parts of `to` to one part of `from` in the middlemost
    std::optional<int> steps;            // steps into the ground, or thin layers
    std::optional<Share> step_down;      // of the cup, replaced with clear base at every step
    std::optional<double> extend;
    std::optional<Share> reduce;
    std::optional<Share> mist;    // film of each fog, as a share of `film`
    std::optional<Degrees> tilt;  // of the gun towards the panel
    std::vector<Placed<std::string>> guns;
    Place place;

    friend bool operator==(const Fade& a, const Fade& b) {
        return a.from == b.from && a.to == b.to && a.method == b.method && a.film == b.film &&
               a.lay_first == b.lay_first && a.first_film == b.first_film && a.start == b.start &&
               a.end == b.end && a.path == b.path && a.smooth == b.smooth && a.shape == b.shape &&
               a.inward == b.inward && a.inside == b.inside && a.width == b.width && a.ramp == b.ramp &&
               a.overlap == b.overlap && a.middles == b.middles && a.middle_ratio == b.middle_ratio &&
               a.steps == b.steps && a.step_down == b.step_down && a.extend == b.extend &&
               a.reduce == b.reduce && a.mist == b.mist && a.tilt == b.tilt && a.guns == b.guns;
    }
};

}  // namespace fadewright::plan
