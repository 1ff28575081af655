// The plan: the job as the painter writes it.
//
// Plain structs that mirror the plan file name for name; plan_schema.h lists their fields for the reader, the
// checks and the reference. Nothing here is resolved: a mix is a name, a gun is a name. plan/job.h turns a
// checked plan into what the engine works with.
//
// Reading order of this layer: plan.h, plan_schema.h, shelf_files.h (paints, guns, grounds, lights, panels),
// shelf.h (where presets are found), fade.h (a fade -> coats and passes), job.h (plan + shelf -> ready to
// spray), rules.h.
//
// Places on the panel: x from the left edge, y up from the lower edge.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/text/schema.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

inline constexpr int kPlanVersion = 1;

struct Point {
    Millimetres x, y;
    friend bool operator==(const Point&, const Point&) = default;
};

// A closed line: out of a drawing (SVG, at its true size), or through corners.
struct Shape {
    std::string drawing;               // file beside the plan, or drawing of the shelf
    std::string part;                  // id of one element of it; else all that is drawn
    std::optional<Millimetres> width;  // of the whole drawing, if it does not say its size itself
    std::vector<Point> corners;
    bool smooth = false;  // a curve through the corners
    Place place;

    friend bool operator==(const Shape& a, const Shape& b) {
        return a.drawing == b.drawing && a.part == b.part && a.width == b.width && a.corners == b.corners &&
               a.smooth == b.smooth;
    }
};

enum class Form { cylinder, dome, bevel, groove, map };
enum class Profile { flat, round };

// One form of the panel's relief; several add up.
struct Relief {
    Form form = Form::cylinder;
    std::optional<Point> centre;        // cylinder (any place on its top line), dome
    Degrees axis;                       // cylinder: of its top line, anticlockwise from left-to-right
    std::optional<Millimetres> radius;  // cylinder, dome
    std::optional<Millimetres> width;   // bevel, groove
    std::optional<Millimetres> depth;   // bevel, groove, map
    Profile profile = Profile::flat;    // bevel
    Millimetres edge;                   // groove: rounding of its upper edges
    std::vector<Point> line;            // groove: along these places
    std::optional<Shape> around;        // bevel, groove: along this line; else the panel's outline
    std::string picture;                // map: 16-bit PNG, black lowest, stretched over the panel
    Place place;

    friend bool operator==(const Relief& a, const Relief& b) {
        return a.form == b.form && a.centre == b.centre && a.axis == b.axis && a.radius == b.radius &&
               a.width == b.width && a.depth == b.depth && a.profile == b.profile && a.edge == b.edge &&
               a.line == b.line && a.around == b.around && a.picture == b.picture;
    }
};

// A part of the panel with another ground.
struct Region {
    Shape shape;
    Placed<std::string> ground;
    friend bool operator==(const Region&, const Region&) = default;
};

struct Panel {
    std::string title;
    std::optional<Millimetres> width;   // needed without a drawn outline
    std::optional<Millimetres> height;
    Millimetres corner_radius;
    std::optional<Shape> outline;
    std::vector<Relief> relief;
    Placed<std::string> ground{"grey-sealer", {}};
    std::vector<Region> regions;
    Degrees inclination{90};  // of the panel while it is painted: 0 lies flat, 90 stands
    Place place;

    friend bool operator==(const Panel& a, const Panel& b) {
        return a.title == b.title && a.width == b.width && a.height == b.height &&
               a.corner_radius == b.corner_radius && a.outline == b.outline && a.relief == b.relief &&
               a.ground == b.ground && a.regions == b.regions && a.inclination == b.inclination;
    }
};

// The air that the paint flies and dries in.
struct Booth {
    Celsius temperature{21};
    Share humidity{0.5};
    friend bool operator==(const Booth&, const Booth&) = default;
};

enum class Covers { inside, outside };

// What keeps paint off: a shape that covers its inside or everything else, on the surface or lifted off it.
struct Mask {
    Shape shape;
    Covers covers = Covers::inside;
    Millimetres gap;  // between mask and surface: the wider, the softer the edge
    friend bool operator==(const Mask&, const Mask&) = default;
};

enum class Surface { gloss, matt };
enum class ObserverAngle { two, ten };

// How the panel is looked at.
struct View {
    Placed<std::string> light{"day", {}};
    ObserverAngle observer = ObserverAngle::two;
    Millimetres distance{1500.0};
    Surface surface = Surface::gloss;
    friend bool operator==(const View&, const View&) = default;
};

enum class PartsBy { volume, weight };

struct Mix {
    std::vector<Named<double>> parts;  // paints or other mixes
    PartsBy by = PartsBy::volume;
    Share white_cut;      // share of white in the colour part
    double extend = 0.0;  // parts of clear base to one part of colour
    Share reduce;         // reducer, % of paint
    Placed<std::string> white{"titanium-white", {}};
    Placed<std::string> clear_base{"clear-base", {}};
    Placed<std::string> reducer{"reducer-medium", {}};
    std::optional<Seconds> cup;  // time to run out of a DIN cup of 4 mm, as sprayed
    Place place;

    friend bool operator==(const Mix& a, const Mix& b) {
        return a.parts == b.parts && a.by == b.by && a.white_cut == b.white_cut && a.extend == b.extend &&
               a.reduce == b.reduce && a.white == b.white && a.clear_base == b.clear_base &&
               a.reducer == b.reducer && a.cup == b.cup;
    }
};

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
        return static_cast<const Hand&>(a) == b && a.path == b.path && a.smooth == b.smooth && a.arc == b.arc &&
               a.dwell == b.dwell && a.turn == b.turn;
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
        return static_cast<const Hand&>(a) == b && a.from == b.from && a.to == b.to && a.overlap == b.overlap &&
               a.direction == b.direction && a.cross == b.cross && a.offset == b.offset;
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

// An even film everywhere, however it is laid.
struct Cover {
    Micrometres film;
    friend bool operator==(const Cover&, const Cover&) = default;
};

// Whether the droplets of a coat flow together or dry as dots; or as they land: together where the film is
// wet enough, as dots where it is thin.
enum class Laydown { wet, fog, as_it_lands };

// The ways in which one colour is faded into another (plan/fade.h).
enum class FadeMethod { over, under, two_sided, middles, stepped, transparent, burst };

// How the film grows across a fade: as the eye has it, evenly, or with soft ends.
enum class Ramp { seen, even, soft };

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
    std::optional<Shape> shape;          // the rim; else the panel's outline
    std::optional<Millimetres> inward;   // of the halfway line from the rim
    bool inside = false;                 // `to` lies in the middle; else at the rim
    std::optional<Millimetres> width;    // with a path or a rim
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

struct Coat {
    std::string name;
    Placed<std::string> mix;  // empty with a fade
    Placed<std::string> gun;
    std::optional<MillilitresPerMinute> flow;  // the gun's own, if absent
    std::optional<MillimetresPerSecond> speed;
    std::optional<Millimetres> distance;
    std::optional<Share> needle;  // drawn back; else fully
    std::optional<Bar> air;       // else the gun's own
    Laydown laydown = Laydown::wet;
    std::vector<Placed<std::string>> masks;
    std::optional<Cover> cover;
    std::optional<Fade> fade;
    std::vector<Sweep> sweeps;
    std::vector<Follow> follows;
    std::vector<Pass> passes;
    Place place;

    friend bool operator==(const Coat& a, const Coat& b) {
        return a.name == b.name && a.mix == b.mix && a.gun == b.gun && a.flow == b.flow &&
               a.speed == b.speed && a.distance == b.distance && a.needle == b.needle && a.air == b.air &&
               a.laydown == b.laydown && a.masks == b.masks && a.cover == b.cover && a.fade == b.fade &&
               a.sweeps == b.sweeps && a.follows == b.follows && a.passes == b.passes;
    }
};

struct Plan {
    int version = kPlanVersion;
    std::string title;
    Panel panel;
    Booth booth;
    View view;
    std::vector<Named<Mix>> mixes;
    std::vector<Named<Mask>> masks;
    std::vector<Coat> coats;

    friend bool operator==(const Plan&, const Plan&) = default;
};

}  // namespace fadewright::plan
