// The fields of the plan file, each listed once (text/schema.h).
#pragma once

#include "fadewright/plan/flow_cup_schema.h"
#include "fadewright/plan/movement_schema.h"
#include "fadewright/plan/plan.h"
#include "fadewright/plan/shop_settings_schema.h"
#include "fadewright/plan/workpiece_schema.h"
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
        {{plan::ObserverAngle::two, "2"}, {plan::ObserverAngle::ten, "10"}}};
    static constexpr bool integers = true;
};
template <>
struct Names<plan::PartsBy> {
    static constexpr std::array<std::pair<plan::PartsBy, std::string_view>, 2> list{
        {{plan::PartsBy::volume, "volume"}, {plan::PartsBy::weight, "weight"}}};
};
template <>
struct Names<plan::Laydown> {
    static constexpr std::array<std::pair<plan::Laydown, std::string_view>, 3> list{
        {{plan::Laydown::wet, "wet"}, {plan::Laydown::dots, "dots"}, {plan::Laydown::automatic, "auto"}}};
};
template <>
struct Schema<plan::Booth> {
    using T = plan::Booth;
    static constexpr std::string_view name = "booth";
    static constexpr std::string_view about = "the air in the booth";
    static constexpr auto fields = Fields{
        Field{"temperature", &T::temperature, optional, plan::kTemperatureLimits,
              "temperature of air and paint"},
        Field{"humidity", &T::humidity, optional, range(0_pct, 100_pct), "relative humidity of the air"}};
};

template <>
struct Schema<plan::View> {
    using T = plan::View;
    static constexpr std::string_view name = "view";
    static constexpr std::string_view about = "how the finished panel is viewed";
    static constexpr auto fields = Fields{
        Field{"light", &T::light, optional, "a light from the library"},
        Field{"observer", &T::observer, optional, "2° or 10° standard observer"},
        Field{"distance", &T::distance, optional, range(100_mm, 100000_mm), "viewing distance"},
        Field{
            "angle", &T::angle, optional, range(Degrees{-15.0}, 110_deg),
            "viewing angle from the gloss direction (aspecular), light at 45°: −15°, 15° near-specular, 25°, "
            "45° face, 75°, 110° flop"},
        Field{"surface", &T::surface, optional,
              "gloss: as after clear, reflections excluded; matt: the surface scatters all reflections"}};
};

template <>
struct Schema<plan::Mix> {
    using T = plan::Mix;
    static constexpr std::string_view name = "mix";
    static constexpr std::string_view about = "what is mixed in one cup";
    static constexpr auto fields = Fields{
        Field{"parts", &T::parts, required, items(1, 12, range(0.0, 1e6)),
              "colour part: paints from the library, or other mixes of this plan"},
        Field{"by", &T::by, optional, "parts by volume or by weight"},
        Field{"white_cut", &T::white_cut, optional, range(0_pct, 99_pct),
              "share of white in the colour part"},
        Field{"extend", &T::extend, optional, range(0.0, 50.0), "parts of clear base per part of colour"},
        Field{"reduce", &T::reduce, optional, range(0_pct, 300_pct), "reducer, % of paint (not % of mix)"},
        Field{"white", &T::white, optional, "which white"},
        Field{"clear_base", &T::clear_base, optional, "which clear base"},
        Field{"reducer", &T::reducer, optional, "which reducer"},
        Field{"flow_cup", &T::flow_cup, optional,
              "time in a flow cup, ready to spray: \"17 s\" (DIN 4), \"Ford 4 20 s\" or \"Zahn 2 22 s\"; "
              "default: DIN 4 17 s, a starting value"}};
};

template <>
struct Schema<plan::EvenCoat> {
    using T = plan::EvenCoat;
    static constexpr std::string_view name = "even coat";
    static constexpr std::string_view about = "an even film over the whole panel";
    static constexpr auto fields =
        Fields{Field{"film", &T::film, required, range(Micrometres{0.0}, 1000_um), "dry film"}};
};

template <>
struct Schema<plan::Coat> {
    using T = plan::Coat;
    static constexpr std::string_view name = "coat";
    static constexpr std::string_view about =
        "one application of one mix; coats are sprayed in the order written";
    static constexpr auto fields = Fields{
        Field{"name", &T::name, required, "name of the coat"},
        Field{"mix", &T::mix, optional,
              "a mix of this plan, or a paint from the library as it is; required unless there is a fade"},
        Field{"gun", &T::gun, optional, "a gun from the library"},
        Field{"flow", &T::flow, optional, plan::kFlowLimits,
              "fluid flow (delivery rate); default: the gun's"},
        Field{"speed", &T::speed, optional, plan::kSpeedLimits, "travel speed of passes that give none"},
        Field{"distance", &T::distance, optional, plan::kDistanceLimits,
              "nozzle to panel, of passes that give none"},
        Field{"needle_opening", &T::needle_opening, optional, plan::kNeedleOpeningLimits,
              "needle opening, % of full; default: fully open"},
        Field{"air", &T::air, optional, plan::kAirLimits, "air pressure; default: the gun's"},
        Field{"laydown", &T::laydown, optional,
              "wet: flows out; dots: dries as separate dots (fogging); auto: flows out where the film is wet "
              "enough, dots where it is thin"},
        Field{"masks", &T::masks, optional, items(0, 20),
              "masks of this plan that are in place while it is sprayed"},
        Field{"even_coat", &T::even_coat, optional, "an even film over the whole panel, without passes"},
        Field{"fade", &T::fade, optional, "a fade from one mix to another, instead of mix and passes"},
        Field{"sweeps", &T::sweeps, optional, items(0, 200), "areas sprayed with parallel passes"},
        Field{"outline_passes", &T::outline_passes, optional, items(0, 200),
              "contour passes: along a line, at an offset"},
        Field{"passes", &T::passes, optional, items(0, 5000), "single passes"}};
};

template <>
struct Schema<plan::Plan> {
    using T = plan::Plan;
    static constexpr std::string_view name = "plan";
    static constexpr std::string_view about = "the job file";
    static constexpr auto fields = Fields{
        Field{"plan", &T::version, required, range(1, plan::kPlanVersion), "version of the plan format"},
        Field{"title", &T::title, optional, "name of the job"},
        Field{"units", &T::units, optional,
              "units of all output: metric, or us (inches, mils, fl oz, psi and °F); the option --units "
              "overrides it"},
        Field{"panel", &T::panel, required, "the piece to be painted"},
        Field{"booth", &T::booth, optional, "the air in the booth"},
        Field{"view", &T::view, optional, "how it is viewed"},
        Field{"mixing", &T::mixing, optional, "shop settings: losses, cups and scale"},
        Field{"mixes", &T::mixes, optional, items(0, 100), "mixes, by name"},
        Field{"masks", &T::masks, optional, items(0, 50), "masks, by name"},
        Field{"coats", &T::coats, optional, items(0, 60), "coats, in spraying order"}};
};

}  // namespace fadewright
