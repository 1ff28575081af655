// The fields of the plan file, each said once (text/schema.h).
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/text/schema.h"

namespace fadewright {

template <>
struct Names<plan::Surface> {
    static constexpr std::array<std::pair<plan::Surface, std::string_view>, 2> list{
        {{plan::Surface::gloss, "gloss"}, {plan::Surface::matt, "matt"}}};
};
template <>
struct Names<plan::ObserverAngle> {
    static constexpr std::array<std::pair<plan::ObserverAngle, std::string_view>, 2> list{
        {{plan::ObserverAngle::two, "2 deg"}, {plan::ObserverAngle::ten, "10 deg"}}};
};
template <>
struct Names<plan::PartsBy> {
    static constexpr std::array<std::pair<plan::PartsBy, std::string_view>, 2> list{
        {{plan::PartsBy::volume, "volume"}, {plan::PartsBy::weight, "weight"}}};
};
template <>
struct Names<plan::Laydown> {
    static constexpr std::array<std::pair<plan::Laydown, std::string_view>, 2> list{
        {{plan::Laydown::wet, "wet"}, {plan::Laydown::fog, "fog"}}};
};

// A place on the panel is written as a list of two lengths: ["450 mm", "80 mm"].
template <>
struct Codec<plan::Point> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, plan::Point& out) {
        if (node.kind != Node::Kind::list || node.items.size() != 2)
            return reading::wrong_kind(node, field, "a place such as [\"10 mm\", \"20 mm\"]", r);
        const bool x = Codec<Millimetres>::read(node.items[0], field, r, out.x);
        const bool y = Codec<Millimetres>::read(node.items[1], field, r, out.y);
        return x && y;
    }
    static std::string inline_text(const plan::Point& p) {
        return "[" + Codec<Millimetres>::inline_text(p.x) + ", " + Codec<Millimetres>::inline_text(p.y) + "]";
    }
    static std::string type_words() { return "place [x, y]"; }
    static std::string allowed_words(const Limits& l) { return Codec<Millimetres>::allowed_words(l); }
};

namespace plan {
// Limits that several fields share.
inline constexpr Limits kPlaceLimits = range(Millimetres{-2000.0}, Millimetres{12000.0});
inline constexpr Limits kSpeedLimits = range(10_mm_s, 3000_mm_s);
inline constexpr Limits kDistanceLimits = range(5_mm, 1000_mm);
inline constexpr Limits kFeatherLimits = range(0_mm, 2000_mm);
inline constexpr Limits kRepeatLimits = range(1, 50);
}  // namespace plan

template <>
struct Schema<plan::Panel> {
    using T = plan::Panel;
    static constexpr std::string_view name = "panel";
    static constexpr std::string_view about = "the piece to be painted: a rectangle with rounded corners";
    static constexpr auto fields = std::tuple{
        Field{"title", &T::title, optional, "what the piece is"},
        Field{"width", &T::width, required, range(10_mm, 10000_mm), "left to right"},
        Field{"height", &T::height, required, range(10_mm, 10000_mm), "lower edge to upper edge"},
        Field{"corner_radius", &T::corner_radius, optional, range(0_mm, 5000_mm), "of the rounded corners"},
        Field{"ground", &T::ground, optional, "what the first coat lands on: a ground of the shelf"}};
};

template <>
struct Schema<plan::View> {
    using T = plan::View;
    static constexpr std::string_view name = "view";
    static constexpr std::string_view about = "how the finished panel is looked at";
    static constexpr auto fields = std::tuple{
        Field{"light", &T::light, optional, "a light of the shelf"},
        Field{"observer", &T::observer, optional, "size of the field the eye judges"},
        Field{"distance", &T::distance, optional, range(100_mm, 100000_mm), "from the eye to the panel"},
        Field{"surface", &T::surface, optional,
              "gloss: as after clear, the shine itself looked past; matt: shine spread over the whole "
              "surface"}};
};

template <>
struct Schema<plan::Mix> {
    using T = plan::Mix;
    static constexpr std::string_view name = "mix";
    static constexpr std::string_view about = "what goes into the cup";
    static constexpr auto fields = std::tuple{
        Field{"parts", &T::parts, required, items(1, 12, range(0.0, 1e6)),
              "colour part: paints of the shelf, or other mixes of this plan"},
        Field{"by", &T::by, optional, "how the parts are measured"},
        Field{"white_cut", &T::white_cut, optional, range(0_pct, 99_pct),
              "share of white in the colour part"},
        Field{"extend", &T::extend, optional, range(0.0, 50.0), "parts of clear base to one part of colour"},
        Field{"reduce", &T::reduce, optional, range(0_pct, 300_pct), "reducer, as % of paint (not % of mix)"},
        Field{"white", &T::white, optional, "the white that cuts"},
        Field{"clear_base", &T::clear_base, optional, "the clear base that extends"},
        Field{"reducer", &T::reducer, optional, "the reducer"}};
};

template <>
struct Schema<plan::Pass> {
    using T = plan::Pass;
    static constexpr std::string_view name = "pass";
    static constexpr std::string_view about = "one movement of the gun; the fan lies across the way it goes";
    static constexpr auto fields = std::tuple{
        Field{"path", &T::path, required, items(1, 1000, plan::kPlaceLimits),
              "places the gun goes through, in straight pieces; a single place is a still burst"},
        Field{"speed", &T::speed, optional, plan::kSpeedLimits, "travel over the panel; else the coat's"},
        Field{"distance", &T::distance, optional, plan::kDistanceLimits, "nozzle to panel; else the coat's"},
        Field{"repeats", &T::repeats, optional, plan::kRepeatLimits, "strokes laid on the same path"},
        Field{"feather_on", &T::feather_on, optional, plan::kFeatherLimits,
              "way over which the trigger opens"},
        Field{"feather_off", &T::feather_off, optional, plan::kFeatherLimits,
              "way over which the trigger closes"},
        Field{"overrun", &T::overrun, optional, plan::kFeatherLimits, "path carried on beyond both ends"},
        Field{"dwell", &T::dwell, optional, range(Seconds{0.01}, Seconds{60.0}), "length of a still burst"}};
};

template <>
struct Schema<plan::Sweep> {
    using T = plan::Sweep;
    static constexpr std::string_view name = "sweep";
    static constexpr std::string_view about = "parallel passes over a rectangle";
    static constexpr auto fields = std::tuple{
        Field{"from", &T::from, required, plan::kPlaceLimits, "one corner of the rectangle"},
        Field{"to", &T::to, required, plan::kPlaceLimits, "the opposite corner"},
        Field{"overlap", &T::overlap, optional, range(0_pct, 95_pct),
              "share of each pass that the next one covers; the width is the fan's, or four sigma of a round "
              "gun"},
        Field{"direction", &T::direction, optional, range(Degrees{-180.0}, Degrees{180.0}),
              "way of travel, anticlockwise from left-to-right"},
        Field{"cross", &T::cross, optional, "lay a second set at a right angle"},
        Field{"speed", &T::speed, optional, plan::kSpeedLimits, "travel over the panel; else the coat's"},
        Field{"distance", &T::distance, optional, plan::kDistanceLimits, "nozzle to panel; else the coat's"},
        Field{"repeats", &T::repeats, optional, plan::kRepeatLimits, "times the whole sweep is laid"},
        Field{"feather_on", &T::feather_on, optional, plan::kFeatherLimits,
              "way over which the trigger opens"},
        Field{"feather_off", &T::feather_off, optional, plan::kFeatherLimits,
              "way over which the trigger closes"},
        Field{"overrun", &T::overrun, optional, plan::kFeatherLimits,
              "passes carried on beyond the rectangle"},
        Field{"offset", &T::offset, optional, range(0_pct, 100_pct), "shift of the first pass, in spacings"}};
};

template <>
struct Schema<plan::Cover> {
    using T = plan::Cover;
    static constexpr std::string_view name = "cover";
    static constexpr std::string_view about = "an even film over the whole panel";
    static constexpr auto fields =
        std::tuple{Field{"film", &T::film, required, range(Micrometres{0.0}, 1000_um), "dry film"}};
};

template <>
struct Schema<plan::Coat> {
    using T = plan::Coat;
    static constexpr std::string_view name = "coat";
    static constexpr std::string_view about =
        "one application of one mix; coats are laid in the order written";
    static constexpr auto fields = std::tuple{
        Field{"name", &T::name, required, "what the painter calls it"},
        Field{"mix", &T::mix, required, "a mix of this plan, or a paint of the shelf as it is"},
        Field{"gun", &T::gun, optional, "a gun of the shelf"},
        Field{"flow", &T::flow, optional, range(MillilitresPerMinute{0.01}, 2000_mL_min),
              "paint leaving the gun; else the gun's own"},
        Field{"speed", &T::speed, optional, plan::kSpeedLimits, "travel, for passes that give none"},
        Field{"distance", &T::distance, optional, plan::kDistanceLimits,
              "nozzle to panel, for passes that give none"},
        Field{"laydown", &T::laydown, optional, "wet: droplets flow together; fog: they dry as dots"},
        Field{"cover", &T::cover, optional, "an even film everywhere"},
        Field{"sweeps", &T::sweeps, optional, items(0, 200), "areas laid with parallel passes"},
        Field{"passes", &T::passes, optional, items(0, 5000), "single movements of the gun"}};
};

template <>
struct Schema<plan::Plan> {
    using T = plan::Plan;
    static constexpr std::string_view name = "plan";
    static constexpr std::string_view about = "the job file";
    static constexpr auto fields = std::tuple{
        Field{"plan", &T::version, required, range(1, plan::kPlanVersion), "version of the plan format"},
        Field{"title", &T::title, optional, "name of the job"},
        Field{"panel", &T::panel, required, "the piece"},
        Field{"view", &T::view, optional, "how it is looked at"},
        Field{"mixes", &T::mixes, optional, items(0, 100), "what goes into the cups, by name"},
        Field{"coats", &T::coats, optional, items(0, 60), "what is laid, first coat first"}};
};

}  // namespace fadewright
