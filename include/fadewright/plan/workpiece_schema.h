// The fields of the piece, each listed once (text/schema.h).
#pragma once

#include "fadewright/plan/workpiece.h"
#include "fadewright/text/schema.h"

namespace fadewright {

template <>
struct Names<plan::ReliefKind> {
    static constexpr std::array<std::pair<plan::ReliefKind, std::string_view>, 5> list{
        {{plan::ReliefKind::cylinder, "cylinder"},
         {plan::ReliefKind::dome, "dome"},
         {plan::ReliefKind::bevel, "bevel"},
         {plan::ReliefKind::groove, "groove"},
         {plan::ReliefKind::height_map, "height-map"}}};
};
template <>
struct Names<plan::Profile> {
    static constexpr std::array<std::pair<plan::Profile, std::string_view>, 2> list{
        {{plan::Profile::flat, "flat"}, {plan::Profile::round, "round"}}};
};
template <>
struct Names<plan::Covers> {
    static constexpr std::array<std::pair<plan::Covers, std::string_view>, 2> list{
        {{plan::Covers::inside, "inside"}, {plan::Covers::outside, "outside"}}};
};

// A point on the panel is written as a list of two lengths: ["450 mm", "80 mm"].
template <>
struct Codec<plan::Point> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, plan::Point& out) {
        if (node.kind != Node::Kind::list || node.items.size() != 2)
            return detail::report_wrong_kind(node, field, "a point such as [\"10 mm\", \"20 mm\"]", r);
        const bool x = Codec<Millimetres>::read(node.items[0], field, r, out.x);
        const bool y = Codec<Millimetres>::read(node.items[1], field, r, out.y);
        return x && y;
    }
    static std::string inline_text(const plan::Point& p) {
        return "[" + Codec<Millimetres>::inline_text(p.x) + ", " + Codec<Millimetres>::inline_text(p.y) + "]";
    }
    static std::string type_label() { return "point [x, y]"; }
    static std::string allowed_text(const Limits& l) { return Codec<Millimetres>::allowed_text(l); }
};

namespace plan {
// Limits that several fields share.
inline constexpr Limits kPointLimits = range(Millimetres{-2000.0}, Millimetres{12000.0});
inline constexpr Limits kSpeedLimits = range(10_mm_s, 3000_mm_s);
inline constexpr Limits kDistanceLimits = range(5_mm, 1000_mm);
inline constexpr Limits kFlowLimits = range(MillilitresPerMinute{0.01}, 2000_mL_min);
inline constexpr Limits kNeedleOpeningLimits = range(5_pct, 100_pct);
inline constexpr Limits kAirLimits = range(Bar{0.05}, Bar{8.0});
inline constexpr Limits kTemperatureLimits = range(Celsius{0.0}, Celsius{50.0});
inline constexpr Limits kFeatherLimits = range(0_mm, 2000_mm);
inline constexpr Limits kRepeatLimits = range(1, 50);
inline constexpr Limits kAngleLimits = range(Degrees{-360.0}, Degrees{360.0});
inline constexpr Limits kGunAngleLimits = range(Degrees{-60.0}, Degrees{60.0});
}  // namespace plan

template <>
struct Schema<plan::Shape> {
    using T = plan::Shape;
    static constexpr std::string_view name = "shape";
    static constexpr std::string_view about = "closed shape: from a drawing, or through points";
    static constexpr auto fields = Fields{
        Field{"drawing", &T::drawing, optional,
              "SVG file in the plan's folder, or a drawing from the library"},
        Field{"part", &T::part, optional, "id of one element of the drawing; default: the whole drawing"},
        Field{"width", &T::width, optional, range(1_mm, 10000_mm),
              "width of the whole drawing, if the drawing does not give its size"},
        Field{"corners", &T::corners, optional, items(3, 1000, plan::kPointLimits),
              "points of the shape, instead of a drawing"},
        Field{"smooth", &T::smooth, optional, "a curve through the points"}};
};

template <>
struct Schema<plan::Relief> {
    using T = plan::Relief;
    static constexpr std::string_view name = "relief";
    static constexpr std::string_view about =
        "a curve, bevel or groove of the panel; several add up. The gun's distance is measured from the "
        "plane of the highest point of a cylinder or dome, and from the face of a bevelled or grooved board";
    static constexpr auto fields = Fields{
        Field{"kind", &T::kind, required, "cylinder, dome, bevel, groove or height-map"},
        Field{"centre", &T::centre, optional, plan::kPointLimits,
              "highest point of a cylinder or dome; default: the centre of the panel"},
        Field{"axis", &T::axis, optional, plan::kAngleLimits,
              "cylinder: direction of its highest line, counterclockwise; 0 = left to right"},
        Field{"radius", &T::radius, optional, range(5_mm, 100000_mm), "of a cylinder or dome"},
        Field{"width", &T::width, optional, range(Millimetres{0.5}, 2000_mm), "of a bevel or groove"},
        Field{"depth", &T::depth, optional, range(Millimetres{0.1}, 500_mm),
              "of a bevel, groove or height map"},
        Field{"profile", &T::profile, optional, "bevel: flat or round"},
        Field{"edge", &T::edge, optional, range(0_mm, 50_mm), "groove: radius of its upper edges"},
        Field{"line", &T::line, optional, items(2, 1000, plan::kPointLimits),
              "groove: points it runs through"},
        Field{"around", &T::around, optional,
              "bevel or groove: the shape it runs around; default: the panel's outline"},
        Field{
            "picture", &T::picture, optional,
            "height-map: 16-bit PNG in the plan's folder, black lowest, white highest, over the whole panel"}};
};

template <>
struct Schema<plan::Region> {
    using T = plan::Region;
    static constexpr std::string_view name = "region";
    static constexpr std::string_view about = "a part of the panel with another ground";
    static constexpr auto fields = Fields{Field{"shape", &T::shape, required, "where it is"},
                                          Field{"ground", &T::ground, required, "ground of the region"}};
};

template <>
struct Schema<plan::Mask> {
    using T = plan::Mask;
    static constexpr std::string_view name = "mask";
    static constexpr std::string_view about = "keeps paint off while chosen coats are sprayed";
    static constexpr auto fields = Fields{
        Field{"shape", &T::shape, required, "edge of the mask"},
        Field{"covers", &T::covers, optional, "the inside of the shape, or everything outside"},
        Field{"gap", &T::gap, optional, range(0_mm, 200_mm),
              "how far the mask is held off the surface: the wider, the softer its edge; 0 = taped down"}};
};

template <>
struct Schema<plan::Panel> {
    using T = plan::Panel;
    static constexpr std::string_view name = "panel";
    static constexpr std::string_view about =
        "the piece to be painted: a rectangle with rounded corners, or a drawn outline";
    static constexpr auto fields = Fields{
        Field{"title", &T::title, optional, "name of the piece"},
        Field{"width", &T::width, optional, range(10_mm, 10000_mm), "left to right; not with an outline"},
        Field{"height", &T::height, optional, range(10_mm, 10000_mm),
              "lower edge to upper edge; not with an outline"},
        Field{"corner_radius", &T::corner_radius, optional, range(0_mm, 5000_mm), "of the rounded corners"},
        Field{"outline", &T::outline, optional, "the shape of the piece instead of a rectangle"},
        Field{"relief", &T::relief, optional, items(0, 50), "curves, bevels and grooves"},
        Field{"ground", &T::ground, optional, "what the first coat lands on: a ground from the library"},
        Field{"regions", &T::regions, optional, items(0, 50),
              "parts with another ground, the last one on top"},
        Field{"angle_while_sprayed", &T::angle_while_sprayed, optional, range(Degrees{0.0}, Degrees{90.0}),
              "0 = flat, 90 = vertical"}};
};

}  // namespace fadewright
