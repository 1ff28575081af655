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
    static constexpr std::array<std::pair<plan::Laydown, std::string_view>, 3> list{
        {{plan::Laydown::wet, "wet"},
         {plan::Laydown::fog, "fog"},
         {plan::Laydown::as_it_lands, "as it lands"}}};
};
template <>
struct Names<plan::FadeMethod> {
    static constexpr std::array<std::pair<plan::FadeMethod, std::string_view>, 7> list{
        {{plan::FadeMethod::over, "over"},
         {plan::FadeMethod::under, "under"},
         {plan::FadeMethod::two_sided, "two-sided"},
         {plan::FadeMethod::middles, "middles"},
         {plan::FadeMethod::stepped, "stepped"},
         {plan::FadeMethod::transparent, "transparent"},
         {plan::FadeMethod::burst, "burst"}}};
};
template <>
struct Names<plan::Ramp> {
    static constexpr std::array<std::pair<plan::Ramp, std::string_view>, 3> list{
        {{plan::Ramp::seen, "seen"}, {plan::Ramp::even, "even"}, {plan::Ramp::soft, "soft"}}};
};
template <>
struct Names<plan::Form> {
    static constexpr std::array<std::pair<plan::Form, std::string_view>, 5> list{
        {{plan::Form::cylinder, "cylinder"},
         {plan::Form::dome, "dome"},
         {plan::Form::bevel, "bevel"},
         {plan::Form::groove, "groove"},
         {plan::Form::map, "map"}}};
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
inline constexpr Limits kTurnLimits = range(Degrees{-360.0}, Degrees{360.0});
inline constexpr Limits kTiltLimits = range(Degrees{-60.0}, Degrees{60.0});
}  // namespace plan

template <>
struct Schema<plan::Shape> {
    using T = plan::Shape;
    static constexpr std::string_view name = "shape";
    static constexpr std::string_view about = "a closed line: out of a drawing, or through corners";
    static constexpr auto fields = std::tuple{
        Field{"drawing", &T::drawing, optional, "SVG file beside the plan, or a drawing of the shelf"},
        Field{"part", &T::part, optional, "id of one element of the drawing; else all that is drawn"},
        Field{"width", &T::width, optional, range(1_mm, 10000_mm),
              "of the whole drawing, if the drawing does not say its size"},
        Field{"corners", &T::corners, optional, items(3, 1000, plan::kPlaceLimits), "instead of a drawing"},
        Field{"smooth", &T::smooth, optional, "a curve through the corners"}};
};

template <>
struct Schema<plan::Relief> {
    using T = plan::Relief;
    static constexpr std::string_view name = "relief";
    static constexpr std::string_view about =
        "a form that the panel has; several add up. The gun's distance counts from the plane of the highest "
        "place of a cylinder or dome, and from the face of a bevelled or grooved board";
    static constexpr auto fields = std::tuple{
        Field{"form", &T::form, required, "cylinder, dome, bevel, groove, or map: a picture of heights"},
        Field{"centre", &T::centre, optional, plan::kPlaceLimits,
              "highest place of a cylinder or dome; else the panel's middle"},
        Field{"axis", &T::axis, optional, plan::kTurnLimits,
              "cylinder: way of its highest line, anticlockwise from left-to-right"},
        Field{"radius", &T::radius, optional, range(5_mm, 100000_mm), "of a cylinder or dome"},
        Field{"width", &T::width, optional, range(Millimetres{0.5}, 2000_mm), "of a bevel or groove"},
        Field{"depth", &T::depth, optional, range(Millimetres{0.1}, 500_mm), "of a bevel, groove or map"},
        Field{"profile", &T::profile, optional, "bevel: a flat slope or a round edge"},
        Field{"edge", &T::edge, optional, range(0_mm, 50_mm), "groove: how far its upper edges are rounded"},
        Field{"line", &T::line, optional, items(2, 1000, plan::kPlaceLimits), "groove: places it runs through"},
        Field{"around", &T::around, optional,
              "bevel or groove: the shape it runs around; else the panel's outline"},
        Field{"picture", &T::picture, optional,
              "map: PNG of 16 bits beside the plan, black lowest, white highest, over the whole panel"}};
};

template <>
struct Schema<plan::Region> {
    using T = plan::Region;
    static constexpr std::string_view name = "region";
    static constexpr std::string_view about = "a part of the panel with another ground";
    static constexpr auto fields =
        std::tuple{Field{"shape", &T::shape, required, "where"},
                   Field{"ground", &T::ground, required, "what the first coat lands on there"}};
};

template <>
struct Schema<plan::Booth> {
    using T = plan::Booth;
    static constexpr std::string_view name = "booth";
    static constexpr std::string_view about = "the air that the paint flies and dries in";
    static constexpr auto fields = std::tuple{
        Field{"temperature", &T::temperature, optional, range(Celsius{0.0}, Celsius{50.0}), "of air and paint"},
        Field{"humidity", &T::humidity, optional, range(0_pct, 100_pct), "relative humidity of the air"}};
};

template <>
struct Schema<plan::Mask> {
    using T = plan::Mask;
    static constexpr std::string_view name = "mask";
    static constexpr std::string_view about = "what keeps paint off while chosen coats are laid";
    static constexpr auto fields = std::tuple{
        Field{"shape", &T::shape, required, "the mask's edge"},
        Field{"covers", &T::covers, optional, "the inside of the shape, or everything outside it"},
        Field{"gap", &T::gap, optional, range(0_mm, 200_mm),
              "how far the mask is lifted off the surface: the wider, the softer its edge; 0: taped down"}};
};

template <>
struct Schema<plan::Panel> {
    using T = plan::Panel;
    static constexpr std::string_view name = "panel";
    static constexpr std::string_view about = "the piece to be painted: a rectangle with rounded corners, or a drawn outline";
    static constexpr auto fields = std::tuple{
        Field{"title", &T::title, optional, "what the piece is"},
        Field{"width", &T::width, optional, range(10_mm, 10000_mm), "left to right; not with an outline"},
        Field{"height", &T::height, optional, range(10_mm, 10000_mm),
              "lower edge to upper edge; not with an outline"},
        Field{"corner_radius", &T::corner_radius, optional, range(0_mm, 5000_mm), "of the rounded corners"},
        Field{"outline", &T::outline, optional, "the shape of the piece instead of a rectangle"},
        Field{"relief", &T::relief, optional, items(0, 50), "forms that make it other than flat"},
        Field{"ground", &T::ground, optional, "what the first coat lands on: a ground of the shelf"},
        Field{"regions", &T::regions, optional, items(0, 50), "parts with another ground, the last one on top"},
        Field{"inclination", &T::inclination, optional, range(Degrees{0.0}, Degrees{90.0}),
              "while it is painted: 0 lies flat, 90 stands upright"}};
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
        Field{"reducer", &T::reducer, optional, "the reducer"},
        Field{"cup", &T::cup, optional, range(Seconds{14.0}, Seconds{60.0}),
              "seconds to run out of a DIN cup of 4 mm, as sprayed; else 17 s, a starting value"}};
};

namespace plan {
// What the hand does, for everything that moves the gun.
inline constexpr auto kHandFields = std::tuple{
    Field{"speed", &Hand::speed, optional, kSpeedLimits, "travel over the panel; else the coat's"},
    Field{"speeds", &Hand::speeds, optional, items(2, 1000, kSpeedLimits),
          "travel at every place of the path, changing evenly between them"},
    Field{"distance", &Hand::distance, optional, kDistanceLimits, "nozzle to panel; else the coat's"},
    Field{"distances", &Hand::distances, optional, items(2, 1000, kDistanceLimits),
          "nozzle to panel at every place of the path, changing evenly between them"},
    Field{"swing", &Hand::swing, optional, range(0_mm, 5000_mm),
          "nozzle to elbow, if the gun swings about it; 0: it is carried parallel to the panel"},
    Field{"tilt", &Hand::tilt, optional, kTiltLimits,
          "gun leaned to the side of its travel; plus throws the paint to the left"},
    Field{"lean", &Hand::lean, optional, kTiltLimits,
          "gun leaned along its travel; plus throws the paint ahead"},
    Field{"run_up", &Hand::run_up, optional, kFeatherLimits, "way over which the hand gets up to speed"},
    Field{"run_down", &Hand::run_down, optional, kFeatherLimits, "way over which it slows to a stop"},
    Field{"repeats", &Hand::repeats, optional, kRepeatLimits, "times the same is laid"},
    Field{"feather_on", &Hand::feather_on, optional, kFeatherLimits, "way over which the trigger opens"},
    Field{"feather_off", &Hand::feather_off, optional, kFeatherLimits, "way over which the trigger closes"},
    Field{"overrun", &Hand::overrun, optional, kFeatherLimits, "path carried straight on beyond both ends"},
    Field{"opens", &Hand::opens, optional, range(Millimetres{-2000.0}, Millimetres{10000.0}),
          "where the trigger is pulled: so far after the first place, minus before it; else with the path"},
    Field{"closes", &Hand::closes, optional, range(Millimetres{-10000.0}, Millimetres{2000.0}),
          "where it is let go: so far after the last place, minus before it; else with the path"}};
}  // namespace plan

template <>
struct Schema<plan::Arc> {
    using T = plan::Arc;
    static constexpr std::string_view name = "arc";
    static constexpr std::string_view about = "part of a circle";
    static constexpr auto fields =
        std::tuple{Field{"centre", &T::centre, required, plan::kPlaceLimits, "of the circle"},
                   Field{"radius", &T::radius, required, range(1_mm, 10000_mm), "of the circle"},
                   Field{"from", &T::from, required, plan::kTurnLimits, "anticlockwise from the right"},
                   Field{"to", &T::to, required, plan::kTurnLimits, "more than 'from': anticlockwise"}};
};

template <>
struct Schema<plan::Pass> {
    using T = plan::Pass;
    static constexpr std::string_view name = "pass";
    static constexpr std::string_view about = "one movement of the gun; the fan lies across the way it goes";
    static constexpr auto fields = std::tuple_cat(
        std::tuple{Field{"path", &T::path, optional, items(1, 1000, plan::kPlaceLimits),
                         "places the gun goes through; a single place is a still burst"},
                   Field{"smooth", &T::smooth, optional, "a curve through the places; else straight pieces"},
                   Field{"arc", &T::arc, optional, "part of a circle, instead of a path"}},
        plan::kHandFields,
        std::tuple{
            Field{"dwell", &T::dwell, optional, range(Seconds{0.01}, Seconds{60.0}), "length of a still burst"},
            Field{"turn", &T::turn, optional, plan::kTurnLimits,
                  "of the fan of a still burst, anticlockwise from upright"}});
};

template <>
struct Schema<plan::Sweep> {
    using T = plan::Sweep;
    static constexpr std::string_view name = "sweep";
    static constexpr std::string_view about = "parallel passes over a rectangle";
    static constexpr auto fields = std::tuple_cat(
        std::tuple{Field{"from", &T::from, required, plan::kPlaceLimits, "one corner of the rectangle"},
                   Field{"to", &T::to, required, plan::kPlaceLimits, "the opposite corner"},
                   Field{"overlap", &T::overlap, optional, range(0_pct, 95_pct),
                         "share of each pass that the next one covers; the width is the fan's, or four sigma of "
                         "a round gun"},
                   Field{"direction", &T::direction, optional, range(Degrees{-180.0}, Degrees{180.0}),
                         "way of travel, anticlockwise from left-to-right"},
                   Field{"cross", &T::cross, optional, "lay a second set at a right angle"},
                   Field{"offset", &T::offset, optional, range(0_pct, 100_pct),
                         "shift of the first pass, in spacings"}},
        plan::kHandFields);
};

template <>
struct Schema<plan::Follow> {
    using T = plan::Follow;
    static constexpr std::string_view name = "follow";
    static constexpr std::string_view about =
        "passes along a line: the panel's outline, another shape, or a path; anticlockwise around a shape";
    static constexpr auto fields = std::tuple_cat(
        std::tuple{Field{"shape", &T::shape, optional, "the shape to follow; else the panel's outline"},
                   Field{"path", &T::path, optional, items(2, 1000, plan::kPlaceLimits), "a line to follow instead"},
                   Field{"smooth", &T::smooth, optional, "a curve through the places of the path"},
                   Field{"offset", &T::offset, optional, range(Millimetres{-2000.0}, Millimetres{2000.0}),
                         "distance from the line: plus outside the shape, minus inside; plus to the left of a "
                         "path"}},
        plan::kHandFields);
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
struct Schema<plan::Fade> {
    using T = plan::Fade;
    static constexpr std::string_view name = "fade";
    static constexpr std::string_view about =
        "a change from one mix to another, sprayed with passes that the program works out; it runs from "
        "'start' to 'end', or along a path, or around a rim";
    static constexpr auto fields = std::tuple{
        Field{"from", &T::from, required, "the mix or paint that it fades from"},
        Field{"to", &T::to, required, "the mix or paint that it fades to"},
        Field{"method", &T::method, optional,
              "over: 'to' fades in over 'from'; under: 'to' lies everywhere and 'from' fades in over it; "
              "two-sided: as over, then both are fogged across the middle; middles: mixes between them are "
              "laid first; stepped: 'to' is let down with clear base step by step, into what lies there; "
              "transparent: thin layers of 'to'; burst: as middles, shot at a rim with a tilted gun"},
        Field{"film", &T::film, required, range(Micrometres{0.1}, 500_um),
              "dry film of each colour where it is full"},
        Field{"lay_first", &T::lay_first, optional,
              "lay an even coat of what lies beneath; false: it is there already"},
        Field{"first_film", &T::first_film, optional, range(Micrometres{0.1}, 500_um),
              "dry film of that coat; else 'film'"},
        Field{"start", &T::start, optional, plan::kPlaceLimits, "where all is still 'from'"},
        Field{"end", &T::end, optional, plan::kPlaceLimits, "where all is 'to': the passes cross this way"},
        Field{"path", &T::path, optional, items(2, 1000, plan::kPlaceLimits),
              "the halfway line instead; 'to' lies to its left"},
        Field{"smooth", &T::smooth, optional, "a curve through the places of the path"},
        Field{"inward", &T::inward, optional, range(0_mm, 5000_mm),
              "how far inside a rim the halfway line runs, instead"},
        Field{"inside", &T::inside, optional, "'to' lies in the middle; else at the rim"},
        Field{"width", &T::width, optional, range(1_mm, 5000_mm), "of the fade, with a path or a rim"},
        Field{"ramp", &T::ramp, optional,
              "seen: the film grows so that the colour changes evenly, thin for long where the paint is strong; even: "
              "the film itself grows evenly; soft: it grows slowly at both ends"},
        Field{"overlap", &T::overlap, optional, range(0_pct, 95_pct),
              "share of each pass that the next one covers"},
        Field{"middles", &T::middles, optional, range(0, 5),
              "middles, burst: mixes between 'from' and 'to'; else 1, for a burst none"},
        Field{"middle_ratio", &T::middle_ratio, optional, range(0.01, 100.0),
              "middles, burst: parts of 'to' to one part of 'from', halfway; else 1"},
        Field{"steps", &T::steps, optional, range(1, 8),
              "stepped: cups, the first at full strength, else 3; transparent: layers, else 4"},
        Field{"step_down", &T::step_down, optional, range(5_pct, 90_pct),
              "stepped: share of the cup that is replaced with clear base at every step; else 50 %"},
        Field{"extend", &T::extend, optional, range(0.0, 50.0),
              "middles, burst: of the mixes between; transparent: of 'to'; two-sided: of what is fogged"},
        Field{"reduce", &T::reduce, optional, range(0_pct, 300_pct), "reducer in the same mixes, as % of paint"},
        Field{"mist", &T::mist, optional, range(1_pct, 100_pct),
              "two-sided: film of each fog, as a share of 'film'; else 25 %"},
        Field{"tilt", &T::tilt, optional, range(Degrees{0.0}, Degrees{60.0}),
              "burst: gun leaned so that it throws the paint inwards; else 30 deg"},
        Field{"guns", &T::guns, optional, items(0, 20),
              "a gun for each of the graded coats in the order they are laid; else the coat's for all"},
        Field{"shape", &T::shape, optional, "the rim; else the panel's outline"}};
};

template <>
struct Schema<plan::Coat> {
    using T = plan::Coat;
    static constexpr std::string_view name = "coat";
    static constexpr std::string_view about =
        "one application of one mix; coats are laid in the order written";
    static constexpr auto fields = std::tuple{
        Field{"name", &T::name, required, "what the painter calls it"},
        Field{"mix", &T::mix, optional,
              "a mix of this plan, or a paint of the shelf as it is; needed unless there is a fade"},
        Field{"gun", &T::gun, optional, "a gun of the shelf"},
        Field{"flow", &T::flow, optional, range(MillilitresPerMinute{0.01}, 2000_mL_min),
              "paint leaving the gun; else the gun's own"},
        Field{"speed", &T::speed, optional, plan::kSpeedLimits, "travel, for passes that give none"},
        Field{"distance", &T::distance, optional, plan::kDistanceLimits,
              "nozzle to panel, for passes that give none"},
        Field{"needle", &T::needle, optional, range(5_pct, 100_pct), "how far it is drawn back; else fully"},
        Field{"air", &T::air, optional, range(Bar{0.05}, Bar{8.0}), "air pressure; else the gun's own"},
        Field{"laydown", &T::laydown, optional,
              "wet: droplets flow together; fog: they dry as dots; as it lands: together where the film is wet "
              "enough, as dots where it is thin"},
        Field{"masks", &T::masks, optional, items(0, 20), "masks of this plan that are on while it is laid"},
        Field{"cover", &T::cover, optional, "an even film everywhere"},
        Field{"fade", &T::fade, optional, "a change from one mix to another, instead of mix and passes"},
        Field{"sweeps", &T::sweeps, optional, items(0, 200), "areas laid with parallel passes"},
        Field{"follows", &T::follows, optional, items(0, 200), "lines followed at an offset"},
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
        Field{"booth", &T::booth, optional, "the air it is painted in"},
        Field{"view", &T::view, optional, "how it is looked at"},
        Field{"mixes", &T::mixes, optional, items(0, 100), "what goes into the cups, by name"},
        Field{"masks", &T::masks, optional, items(0, 50), "what keeps paint off, by name"},
        Field{"coats", &T::coats, optional, items(0, 60), "what is laid, first coat first"}};
};

}  // namespace fadewright
