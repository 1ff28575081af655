// The plan: the job as the painter writes it.
//
// Plain structs that mirror the plan file name for name; plan_schema.h lists their fields for the reader, the
// checks and the reference. Nothing here is resolved: a mix is a name, a gun is a name. plan/job.h turns a
// checked plan into what the engine works with.
//
// Reading order of this layer: plan.h, plan_schema.h, shelf_files.h (paints, guns, grounds, lights, panels),
// shelf.h (where presets are found), job.h (plan + shelf -> ready to spray), rules.h.
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

struct Panel {
    std::string title;
    Millimetres width;
    Millimetres height;
    Millimetres corner_radius;
    Placed<std::string> ground{"grey-sealer", {}};
    Place place;

    friend bool operator==(const Panel& a, const Panel& b) {
        return a.title == b.title && a.width == b.width && a.height == b.height &&
               a.corner_radius == b.corner_radius && a.ground == b.ground;
    }
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
    Place place;

    friend bool operator==(const Mix& a, const Mix& b) {
        return a.parts == b.parts && a.by == b.by && a.white_cut == b.white_cut && a.extend == b.extend &&
               a.reduce == b.reduce && a.white == b.white && a.clear_base == b.clear_base &&
               a.reducer == b.reducer;
    }
};

// One movement of the gun along straight pieces; a single point is a still burst of `dwell`.
struct Pass {
    std::vector<Point> path;
    std::optional<MillimetresPerSecond> speed;  // the coat's, if absent
    std::optional<Millimetres> distance;        // the coat's, then the gun's own
    int repeats = 1;
    Millimetres feather_on, feather_off;
    Millimetres overrun;
    std::optional<Seconds> dwell;
    Place place;

    friend bool operator==(const Pass& a, const Pass& b) {
        return a.path == b.path && a.speed == b.speed && a.distance == b.distance && a.repeats == b.repeats &&
               a.feather_on == b.feather_on && a.feather_off == b.feather_off && a.overrun == b.overrun &&
               a.dwell == b.dwell;
    }
};

// Parallel passes over a rectangle.
struct Sweep {
    Point from, to;
    Share overlap{0.5};
    Degrees direction;
    bool cross = false;
    std::optional<MillimetresPerSecond> speed;
    std::optional<Millimetres> distance;
    int repeats = 1;
    Millimetres feather_on, feather_off;
    Millimetres overrun;
    Share offset;
    Place place;

    friend bool operator==(const Sweep& a, const Sweep& b) {
        return a.from == b.from && a.to == b.to && a.overlap == b.overlap && a.direction == b.direction &&
               a.cross == b.cross && a.speed == b.speed && a.distance == b.distance &&
               a.repeats == b.repeats && a.feather_on == b.feather_on && a.feather_off == b.feather_off &&
               a.overrun == b.overrun && a.offset == b.offset;
    }
};

// An even film everywhere, however it is laid.
struct Cover {
    Micrometres film;
    friend bool operator==(const Cover&, const Cover&) = default;
};

// Whether the droplets of a coat flow together or dry as dots.
enum class Laydown { wet, fog };

struct Coat {
    std::string name;
    Placed<std::string> mix;
    Placed<std::string> gun;
    std::optional<MillilitresPerMinute> flow;  // the gun's own, if absent
    std::optional<MillimetresPerSecond> speed;
    std::optional<Millimetres> distance;
    Laydown laydown = Laydown::wet;
    std::optional<Cover> cover;
    std::vector<Sweep> sweeps;
    std::vector<Pass> passes;
    Place place;

    friend bool operator==(const Coat& a, const Coat& b) {
        return a.name == b.name && a.mix == b.mix && a.gun == b.gun && a.flow == b.flow &&
               a.speed == b.speed && a.distance == b.distance && a.laydown == b.laydown &&
               a.cover == b.cover && a.sweeps == b.sweeps && a.passes == b.passes;
    }
};

struct Plan {
    int version = kPlanVersion;
    std::string title;
    Panel panel;
    View view;
    std::vector<Named<Mix>> mixes;
    std::vector<Coat> coats;

    friend bool operator==(const Plan&, const Plan&) = default;
};

}  // namespace fadewright::plan
