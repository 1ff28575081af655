// The fields of movements and fades, each listed once (text/schema.h).
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
// Gun motion: the fields shared by passes, sweeps and outline passes.
inline constexpr auto kGunMotionFields = Fields{
    Field{"speed", &GunMotion::speed, optional, kSpeedLimits, "travel speed; default: the coat's"},
    Field{"speeds", &GunMotion::speeds, optional, items(2, 1000, kSpeedLimits),
          "travel speed at every point of the path, changing evenly in between"},
    Field{"distance", &GunMotion::distance, optional, kDistanceLimits,
          "nozzle to panel; default: the coat's"},
    Field{"distances", &GunMotion::distances, optional, items(2, 1000, kDistanceLimits),
          "nozzle to panel at every point of the path, changing evenly in between"},
    Field{"arc_radius", &GunMotion::arc_radius, optional, range(0_mm, 5000_mm),
          "arcing the gun: nozzle to elbow; 0: carried parallel to the panel"},
    Field{"heel_angle", &GunMotion::heel_angle, optional, kGunAngleLimits,
          "heeling the gun: tipped sideways to its travel; positive sprays to the left"},
    Field{"lead_angle", &GunMotion::lead_angle, optional, kGunAngleLimits,
          "gun tipped along its travel; positive sprays ahead"},
    Field{"run_up", &GunMotion::run_up, optional, kFeatherLimits, "distance to get up to speed"},
    Field{"run_down", &GunMotion::run_down, optional, kFeatherLimits, "distance to slow down to a stop"},
    Field{"repeats", &GunMotion::repeats, optional, kRepeatLimits, "how many times to repeat it"},
    Field{"feather_on", &GunMotion::feather_on, optional, kFeatherLimits,
          "distance over which the trigger opens"},
    Field{"feather_off", &GunMotion::feather_off, optional, kFeatherLimits,
          "distance over which the trigger closes"},
    Field{"overrun", &GunMotion::overrun, optional, kFeatherLimits,
          "lead and lag: distance the path runs straight on beyond both ends"},
    Field{"trigger_on", &GunMotion::trigger_on, optional, range(Millimetres{-2000.0}, Millimetres{10000.0}),
          "trigger pulled: distance past the first point, negative before it; default: at the start"},
    Field{"trigger_off", &GunMotion::trigger_off, optional, range(Millimetres{-10000.0}, Millimetres{2000.0}),
          "trigger released: distance past the last point, negative before it; default: at the end"}};
}  // namespace plan

template <>
struct Schema<plan::Arc> {
    using T = plan::Arc;
    static constexpr std::string_view name = "arc";
    static constexpr std::string_view about = "part of a circle";
    static constexpr auto fields =
        Fields{Field{"centre", &T::centre, required, plan::kPointLimits, "of the circle"},
               Field{"radius", &T::radius, required, range(1_mm, 10000_mm), "of the circle"},
               Field{"from", &T::from, required, plan::kAngleLimits, "counterclockwise; 0 = right"},
               Field{"to", &T::to, required, plan::kAngleLimits, "more than 'from', counterclockwise"}};
};

template <>
struct Schema<plan::Pass> {
    using T = plan::Pass;
    static constexpr std::string_view name = "pass";
    static constexpr std::string_view about =
        "one movement of the gun; the fan is at right angles to the travel";
    static constexpr auto fields =
        Fields{Field{"path", &T::path, optional, items(1, 1000, plan::kPointLimits),
                     "points of the path; a single point is a spot"},
               Field{"smooth", &T::smooth, optional,
                     "true: a curve through the points; false: straight segments"},
               Field{"arc", &T::arc, optional, "part of a circle, instead of a path"}} +
        plan::kGunMotionFields +
        Fields{Field{"dwell", &T::dwell, optional, range(Seconds{0.01}, Seconds{60.0}),
                     "how long a spot is sprayed"},
               Field{"fan_angle", &T::fan_angle, optional, plan::kAngleLimits,
                     "of the fan of a spot, counterclockwise from upright"}};
};

template <>
struct Schema<plan::Sweep> {
    using T = plan::Sweep;
    static constexpr std::string_view name = "sweep";
    static constexpr std::string_view about = "parallel passes over a rectangle";
    static constexpr auto fields =
        Fields{
            Field{"from", &T::from, required, plan::kPointLimits, "one corner of the rectangle"},
            Field{"to", &T::to, required, plan::kPointLimits, "the opposite corner"},
            Field{
                "overlap", &T::overlap, optional, range(0_pct, 95_pct),
                "share of each pass that the next one covers; a pass is as wide as the fan, or four sigma of "
                "a round gun"},
            Field{"direction", &T::direction, optional, range(Degrees{-180.0}, Degrees{180.0}),
                  "direction of travel, counterclockwise; 0 = left to right"},
            Field{"cross", &T::cross, optional, "spray a second set at right angles"},
            Field{"offset", &T::offset, optional, range(0_pct, 100_pct),
                  "shift of the first pass, % of the spacing"}} +
        plan::kGunMotionFields;
};

template <>
struct Schema<plan::OutlinePass> {
    using T = plan::OutlinePass;
    static constexpr std::string_view name = "outline pass";
    static constexpr std::string_view about =
        "contour passes along a line: the panel's outline, another shape, or a path; counterclockwise around "
        "a shape";
    static constexpr auto fields =
        Fields{
            Field{"shape", &T::shape, optional, "the shape to follow; default: the panel's outline"},
            Field{"path", &T::path, optional, items(2, 1000, plan::kPointLimits), "a line to follow instead"},
            Field{"smooth", &T::smooth, optional, "a curve through the points of the path"},
            Field{"offset", &T::offset, optional, range(Millimetres{-2000.0}, Millimetres{2000.0}),
                  "distance from the line: positive is outside a shape, or to the left of a path"}} +
        plan::kGunMotionFields;
};

template <>
struct Schema<plan::Fade> {
    using T = plan::Fade;
    static constexpr std::string_view name = "fade";
    static constexpr std::string_view about =
        "a change from one mix to another; the program calculates the passes. It runs from 'start' to 'end', "
        "along a path, or around an edge";
    static constexpr auto fields = Fields{
        Field{"from", &T::from, required, "mix or paint at the start"},
        Field{"to", &T::to, required, "mix or paint at the end"},
        Field{
            "method", &T::method, optional,
            "over: 'to' fades in over 'from'; under: 'to' everywhere and 'from' fades in over it; fogged: as "
            "over, then both colours fogged across the middle; mid-colours: mixes between the two are "
            "sprayed first; stepped: 'to' is let down with clear base step by step into the base; glazed: "
            "thin transparent coats of 'to'; burst: sunburst, as mid-colours, sprayed at an edge with a "
            "tilted gun"},
        Field{"film", &T::film, required, range(Micrometres{0.1}, 500_um),
              "dry film of each colour at full strength"},
        Field{"base_coat", &T::base_coat, optional,
              "spray an even base coat first; false: it is already there"},
        Field{"base_film", &T::base_film, optional, range(Micrometres{0.1}, 500_um),
              "dry film of the base coat; default: 'film'"},
        Field{"start", &T::start, optional, plan::kPointLimits, "where the fade starts: pure 'from'"},
        Field{"end", &T::end, optional, plan::kPointLimits,
              "where the fade ends: pure 'to'; the passes run across this direction"},
        Field{"path", &T::path, optional, items(2, 1000, plan::kPointLimits),
              "the midline, instead of start and end; 'to' is on its left"},
        Field{"smooth", &T::smooth, optional, "a curve through the points of the path"},
        Field{"inward", &T::inward, optional, range(0_mm, 5000_mm),
              "around an edge: how far inside it the midline runs"},
        Field{"inside", &T::inside, optional, "true: 'to' in the centre; false: 'to' at the edge"},
        Field{"width", &T::width, optional, range(1_mm, 5000_mm),
              "of the fade, with a path or around an edge"},
        Field{
            "ramp", &T::ramp, optional,
            "perceptual: the film builds so that the colour changes evenly, thin for long where the paint is "
            "strong; linear: the film builds evenly; smooth: the film builds slowly at both ends; joint: all "
            "coats are solved together, for a soft change of colour from end to end"},
        Field{"overlap", &T::overlap, optional, range(0_pct, 95_pct),
              "share of each pass that the next one covers"},
        Field{"mid_colours", &T::mid_colours, optional, range(0, 5),
              "mid-colours, burst: how many mixes between 'from' and 'to'; default: 1, burst: 0"},
        Field{"mid_ratio", &T::mid_ratio, optional, range(0.01, 100.0),
              "mid-colours, burst: parts of 'to' per part of 'from' in the middle mix; default: 1"},
        Field{"steps", &T::steps, optional, range(1, 8),
              "stepped: number of cups, the first at full strength, default: 3; glazed: number of coats, "
              "default: 4"},
        Field{"step_down", &T::step_down, optional, range(5_pct, 90_pct),
              "stepped: share of the cup replaced with clear base at every step; default: 50 %"},
        Field{"extend", &T::extend, optional, range(0.0, 50.0),
              "parts of clear base per part of colour; mid-colours, burst: in the mid colours; glazed: in "
              "'to'; fogged: in the fog coats"},
        Field{"reduce", &T::reduce, optional, range(0_pct, 300_pct), "reducer in the same mixes, % of paint"},
        Field{"fog", &T::fog, optional, range(1_pct, 100_pct),
              "fogged: film of each fog coat, % of 'film'; default: 25 %"},
        Field{"heel_angle", &T::heel_angle, optional, range(Degrees{0.0}, Degrees{60.0}),
              "burst: gun tipped so that it sprays inwards; default: 30°"},
        Field{"guns", &T::guns, optional, items(0, 20),
              "one gun per graded coat, in spraying order; default: the coat's gun for all"},
        Field{"shape", &T::shape, optional,
              "the edge that the fade runs around; default: the panel's outline"}};
};

}  // namespace fadewright
