// The piece as the painter describes it: its shape and relief, its grounds, and its masks.
//
// Part of the plan (plan.h); workpiece_schema.h lists the fields. Points: x from the left edge, y up from the
// lower edge.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/geometry/plane.h"
#include "fadewright/plan/default_names.h"
#include "fadewright/text/field.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

using geometry::Point;

// A closed shape: from a drawing (SVG, at its true size), or through corners.
struct Shape {
    std::string drawing;               // file in the plan's folder, or drawing from the library
    std::string part;                  // id of one element of it; default: the whole drawing
    std::optional<Millimetres> width;  // of the whole drawing, if it has no size
    std::vector<Point> corners;
    bool smooth = false;  // a curve through the corners
    SourceSpan span;

    friend bool operator==(const Shape& a, const Shape& b) {
        return a.drawing == b.drawing && a.part == b.part && a.width == b.width && a.corners == b.corners &&
               a.smooth == b.smooth;
    }
};

enum class ReliefKind { cylinder, dome, bevel, groove, height_map };
enum class Profile { flat, round };

// One curve, bevel or groove of the panel; several add up.
struct Relief {
    ReliefKind kind = ReliefKind::cylinder;
    std::optional<Point> centre;        // cylinder (any point of its highest line), dome
    Degrees axis;                       // cylinder: of its highest line, counterclockwise from left to right
    std::optional<Millimetres> radius;  // cylinder, dome
    std::optional<Millimetres> width;   // bevel, groove
    std::optional<Millimetres> depth;   // bevel, groove, height map
    Profile profile = Profile::flat;    // bevel
    Millimetres edge;                   // groove: radius of its upper edges
    std::vector<Point> line;            // groove: points it runs through
    std::optional<Shape> around;        // bevel, groove: around this shape; default: the panel's outline
    std::string picture;                // height map: 16-bit PNG, black lowest, over the whole panel
    SourceSpan span;

    friend bool operator==(const Relief& a, const Relief& b) {
        return a.kind == b.kind && a.centre == b.centre && a.axis == b.axis && a.radius == b.radius &&
               a.width == b.width && a.depth == b.depth && a.profile == b.profile && a.edge == b.edge &&
               a.line == b.line && a.around == b.around && a.picture == b.picture;
    }
};

// A part of the panel with another ground.
struct Region {
    Shape shape;
    Located<std::string> ground;
    friend bool operator==(const Region&, const Region&) = default;
};

struct Panel {
    std::string title;
    std::optional<Millimetres> width;  // needed without a drawn outline
    std::optional<Millimetres> height;
    Millimetres corner_radius;
    std::optional<Shape> outline;
    std::vector<Relief> relief;
    Located<std::string> ground{kDefaultGround, {}};
    std::vector<Region> regions;
    Degrees angle_while_sprayed{90};  // 0 = flat, 90 = vertical
    SourceSpan span;

    friend bool operator==(const Panel& a, const Panel& b) {
        return a.title == b.title && a.width == b.width && a.height == b.height &&
               a.corner_radius == b.corner_radius && a.outline == b.outline && a.relief == b.relief &&
               a.ground == b.ground && a.regions == b.regions &&
               a.angle_while_sprayed == b.angle_while_sprayed;
    }
};
enum class Covers { inside, outside };

// A mask: a shape that covers its inside or everything outside, on the surface or held off it.
struct Mask {
    Shape shape;
    Covers covers = Covers::inside;
    Millimetres gap;  // between mask and surface: the wider, the softer the edge
    friend bool operator==(const Mask&, const Mask&) = default;
};

}  // namespace fadewright::plan
