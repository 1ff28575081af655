// The fields of movements and fades, each said once (text/schema.h).
#pragma once

#include "fadewright/plan/movement.h"
#include "fadewright/plan/workpiece_schema.h"

namespace fadewright {

template <>
struct Names<plan::FadeMethod> {
    static constexpr std::array<std::pair<plan::FadeMethod, std::string_view>, 7> list{
        {{plan::FadeMethod::over, "over"},
         {plan::FadeMethod::under, "under"},
         {plan::FadeMethod::fogged, "fogged"},
         {plan::FadeMethod::mid_colours, "mid-colours"},
         {plan::FadeMethod::stepped, "stepped"},
         {plan::FadeMethod::glazed, "glazed"},
         {plan::FadeMethod::burst, "burst"}}};
};
template <>
struct Names<plan::Ramp> {
    static constexpr std::array<std::pair<plan::Ramp, std::string_view>, 4> list{
        {{plan::Ramp::perceptual, "perceptual"},
         {plan::Ramp::linear, "linear"},
         {plan::Ramp::smooth, "smooth"},
         {plan::Ramp::joint, "joint"}}};
};
namespace plan {
// What the hand does, for everything that moves the gun.
inline constexpr auto kGunMotionFields = Fields{
    Field{"speed", &GunMotion::speed, optional, kSpeedLimits, "travel over the panel; else the coat's"},
    Field{"speeds", &GunMotion::speeds, optional, items(2, 1000, kSpeedLimits),
          "travel at every place of the path, changing evenly between them"},
    Field{"distance", &GunMotion::distance, optional, kDistanceLimits, "nozzle to panel; else the coat's"},
    Field{"distances", &GunMotion::distances, optional, items(2, 1000, kDistanceLimits),
          "nozzle to panel at every place of the path, changing evenly between them"},
    Field{"arc_radius", &GunMotion::arc_radius, optional, range(0_mm, 5000_mm),
          "nozzle to elbow, if the gun swings about it; 0: it is carried parallel to the panel"},
    Field{"heel_angle", &GunMotion::heel_angle, optional, kGunAngleLimits,
          "gun leaned to the side of its travel; plus throws the paint to the left"},
    Field{"lead_angle", &GunMotion::lead_angle, optional, kGunAngleLimits,
          "gun leaned along its travel; plus throws the paint ahead"},
    Field{"run_up", &GunMotion::run_up, optional, kFeatherLimits, "way over which the hand gets up to speed"},
    Field{"run_down", &GunMotion::run_down, optional, kFeatherLimits, "way over which it slows to a stop"},
    Field{"repeats", &GunMotion::repeats, optional, kRepeatLimits, "times the same is laid"},
    Field{"feather_on", &GunMotion::feather_on, optional, kFeatherLimits, "way over which the trigger opens"},
    Field{"feather_off", &GunMotion::feather_off, optional, kFeatherLimits,
          "way over which the trigger closes"},
    Field{"overrun", &GunMotion::overrun, optional, kFeatherLimits,
          "path carried straight on beyond both ends"},
    Field{"trigger_on", &GunMotion::trigger_on, optional, range(Millimetres{-2000.0}, Millimetres{10000.0}),
          "where the trigger is pulled: so far after the first place, minus before it; else with the path"},
    Field{"trigger_off", &GunMotion::trigger_off, optional, range(Millimetres{-10000.0}, Millimetres{2000.0}),
          "where it is let go: so far after the last place, minus before it; else with the path"}};
}  // namespace plan

template <>
struct Schema<plan::Arc> {
    using T = plan::Arc;
    static constexpr std::string_view name = "arc";
    static constexpr std::string_view about = "part of a circle";
    static constexpr auto fields =
        Fields{Field{"centre", &T::centre, required, plan::kPointLimits, "of the circle"},
               Field{"radius", &T::radius, required, range(1_mm, 10000_mm), "of the circle"},
               Field{"from", &T::from, required, plan::kAngleLimits, "anticlockwise from the right"},
               Field{"to", &T::to, required, plan::kAngleLimits, "more than 'from': anticlockwise"}};
};

template <>
struct Schema<plan::Pass> {
    using T = plan::Pass;
    static constexpr std::string_view name = "pass";
    static constexpr std::string_view about = "one movement of the gun; the fan lies across the way it goes";
    static constexpr auto fields =
        Fields{Field{"path", &T::path, optional, items(1, 1000, plan::kPointLimits),
                     "places the gun goes through; a single place is a still burst"},
               Field{"smooth", &T::smooth, optional, "a curve through the places; else straight pieces"},
               Field{"arc", &T::arc, optional, "part of a circle, instead of a path"}} +
        plan::kGunMotionFields +
        Fields{Field{"dwell", &T::dwell, optional, range(Seconds{0.01}, Seconds{60.0}),
                     "length of a still burst"},
               Field{"fan_angle", &T::fan_angle, optional, plan::kAngleLimits,
                     "of the fan of a still burst, anticlockwise from upright"}};
};

template <>
struct Schema<plan::Sweep> {
    using T = plan::Sweep;
    static constexpr std::string_view name = "sweep";
    static constexpr std::string_view about = "parallel passes over a rectangle";
    static constexpr auto fields =
        Fields{Field{"from", &T::from, required, plan::kPointLimits, "one corner of the rectangle"},
               Field{"to", &T::to, required, plan::kPointLimits, "the opposite corner"},
               Field{"overlap", &T::overlap, optional, range(0_pct, 95_pct),
                     "share of each pass that the next one covers; the width is the fan's, or four sigma of "
                     "a round gun"},
               Field{"direction", &T::direction, optional, range(Degrees{-180.0}, Degrees{180.0}),
                     "way of travel, anticlockwise from left-to-right"},
               Field{"cross", &T::cross, optional, "lay a second set at a right angle"},
               Field{"offset", &T::offset, optional, range(0_pct, 100_pct),
                     "shift of the first pass, in spacings"}} +
        plan::kGunMotionFields;
};

template <>
struct Schema<plan::OutlinePass> {
    using T = plan::OutlinePass;
    static constexpr std::string_view name = "follow";
    static constexpr std::string_view about =
        "passes along a line: the panel's outline, another shape, or a path; anticlockwise around a shape";
    static constexpr auto fields =
        Fields{
            Field{"shape", &T::shape, optional, "the shape to follow; else the panel's outline"},
            Field{"path", &T::path, optional, items(2, 1000, plan::kPointLimits), "a line to follow instead"},
            Field{"smooth", &T::smooth, optional, "a curve through the places of the path"},
            Field{"offset", &T::offset, optional, range(Millimetres{-2000.0}, Millimetres{2000.0}),
                  "distance from the line: plus outside the shape, minus inside; plus to the left of a "
                  "path"}} +
        plan::kGunMotionFields;
};

template <>
struct Schema<plan::Fade> {
    using T = plan::Fade;
    static constexpr std::string_view name = "fade";
    static constexpr std::string_view about =
        "a change from one mix to another, sprayed with passes that the program works out; it runs from "
        "'start' to 'end', or along a path, or around a rim";
    static constexpr auto fields = Fields{
        Field{"from", &T::from, required, "the mix or paint that it fades from"},
        Field{"to", &T::to, required, "the mix or paint that it fades to"},
        Field{"method", &T::method, optional,
              "over: 'to' fades in over 'from'; under: 'to' lies everywhere and 'from' fades in over it; "
              "two-sided: as over, then both are fogged across the middle; middles: mixes between them are "
              "laid first; stepped: 'to' is let down with clear base step by step, into what lies there; "
              "transparent: thin layers of 'to'; burst: as middles, shot at a rim with a tilted gun"},
        Field{"film", &T::film, required, range(Micrometres{0.1}, 500_um),
              "dry film of each colour where it is full"},
        Field{"base_coat", &T::base_coat, optional,
              "lay an even coat of what lies beneath; false: it is there already"},
        Field{"base_film", &T::base_film, optional, range(Micrometres{0.1}, 500_um),
              "dry film of that coat; else 'film'"},
        Field{"start", &T::start, optional, plan::kPointLimits, "where all is still 'from'"},
        Field{"end", &T::end, optional, plan::kPointLimits, "where all is 'to': the passes cross this way"},
        Field{"path", &T::path, optional, items(2, 1000, plan::kPointLimits),
              "the halfway line instead; 'to' lies to its left"},
        Field{"smooth", &T::smooth, optional, "a curve through the places of the path"},
        Field{"inward", &T::inward, optional, range(0_mm, 5000_mm),
              "how far inside a rim the halfway line runs, instead"},
        Field{"inside", &T::inside, optional, "'to' lies in the middle; else at the rim"},
        Field{"width", &T::width, optional, range(1_mm, 5000_mm), "of the fade, with a path or a rim"},
        Field{
            "ramp", &T::ramp, optional,
            "seen: the film grows so that the colour changes evenly, thin for long where the paint is "
            "strong; even: the film itself grows evenly; soft: it grows slowly at both ends; road: all "
            "passes "
            "of all its coats are found together, so that the colours run softly from one end to the other"},
        Field{"overlap", &T::overlap, optional, range(0_pct, 95_pct),
              "share of each pass that the next one covers"},
        Field{"mid_colours", &T::mid_colours, optional, range(0, 5),
              "middles, burst: mixes between 'from' and 'to'; else 1, for a burst none"},
        Field{"mid_ratio", &T::mid_ratio, optional, range(0.01, 100.0),
              "middles, burst: parts of 'to' to one part of 'from', halfway; else 1"},
        Field{"steps", &T::steps, optional, range(1, 8),
              "stepped: cups, the first at full strength, else 3; transparent: layers, else 4"},
        Field{"step_down", &T::step_down, optional, range(5_pct, 90_pct),
              "stepped: share of the cup that is replaced with clear base at every step; else 50 %"},
        Field{"extend", &T::extend, optional, range(0.0, 50.0),
              "middles, burst: of the mixes between; transparent: of 'to'; two-sided: of what is fogged"},
        Field{"reduce", &T::reduce, optional, range(0_pct, 300_pct),
              "reducer in the same mixes, as % of paint"},
        Field{"fog", &T::fog, optional, range(1_pct, 100_pct),
              "two-sided: film of each fog, as a share of 'film'; else 25 %"},
        Field{"heel_angle", &T::heel_angle, optional, range(Degrees{0.0}, Degrees{60.0}),
              "burst: gun leaned so that it throws the paint inwards; else 30 deg"},
        Field{"guns", &T::guns, optional, items(0, 20),
              "a gun for each of the graded coats in the order they are laid; else the coat's for all"},
        Field{"shape", &T::shape, optional, "the rim; else the panel's outline"}};
};

}  // namespace fadewright
