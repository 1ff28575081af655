// The fields of the plan file, each said once (text/schema.h).
#pragma once

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
        {{plan::Laydown::wet, "wet"}, {plan::Laydown::dots, "dots"}, {plan::Laydown::automatic, "auto"}}};
};
template <>
struct Schema<plan::Booth> {
    using T = plan::Booth;
    static constexpr std::string_view name = "booth";
    static constexpr std::string_view about = "the air that the paint flies and dries in";
    static constexpr auto fields = Fields{
        Field{"temperature", &T::temperature, optional, plan::kTemperatureLimits, "of air and paint"},
        Field{"humidity", &T::humidity, optional, range(0_pct, 100_pct), "relative humidity of the air"}};
};

template <>
struct Schema<plan::View> {
    using T = plan::View;
    static constexpr std::string_view name = "view";
    static constexpr std::string_view about = "how the finished panel is looked at";
    static constexpr auto fields = Fields{
        Field{"light", &T::light, optional, "a light of the shelf"},
        Field{"observer", &T::observer, optional, "size of the field the eye judges"},
        Field{"distance", &T::distance, optional, range(100_mm, 100000_mm), "from the eye to the panel"},
        Field{"angle", &T::angle, optional, range(Degrees{-15.0}, 110_deg),
              "of the eye from the mirror direction of a light at 45 deg; 45 deg is straight on, 15 deg near "
              "the shine"},
        Field{"surface", &T::surface, optional,
              "gloss: as after clear, the shine itself looked past; matt: shine spread over the whole "
              "surface"}};
};

template <>
struct Schema<plan::Mix> {
    using T = plan::Mix;
    static constexpr std::string_view name = "mix";
    static constexpr std::string_view about = "what goes into the cup";
    static constexpr auto fields = Fields{
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
        Field{"flow_cup", &T::flow_cup, optional, range(Seconds{14.0}, Seconds{60.0}),
              "seconds to run out of a DIN cup of 4 mm, as sprayed; else 17 s, a starting value"}};
};

template <>
struct Schema<plan::EvenCoat> {
    using T = plan::EvenCoat;
    static constexpr std::string_view name = "cover";
    static constexpr std::string_view about = "an even film over the whole panel";
    static constexpr auto fields =
        Fields{Field{"film", &T::film, required, range(Micrometres{0.0}, 1000_um), "dry film"}};
};

template <>
struct Schema<plan::Coat> {
    using T = plan::Coat;
    static constexpr std::string_view name = "coat";
    static constexpr std::string_view about =
        "one application of one mix; coats are laid in the order written";
    static constexpr auto fields = Fields{
        Field{"name", &T::name, required, "what the painter calls it"},
        Field{"mix", &T::mix, optional,
              "a mix of this plan, or a paint of the shelf as it is; needed unless there is a fade"},
        Field{"gun", &T::gun, optional, "a gun of the shelf"},
        Field{"flow", &T::flow, optional, plan::kFlowLimits, "paint leaving the gun; else the gun's own"},
        Field{"speed", &T::speed, optional, plan::kSpeedLimits, "travel, for passes that give none"},
        Field{"distance", &T::distance, optional, plan::kDistanceLimits,
              "nozzle to panel, for passes that give none"},
        Field{"needle_opening", &T::needle_opening, optional, plan::kNeedleOpeningLimits,
              "how far it is drawn back; else fully"},
        Field{"air", &T::air, optional, plan::kAirLimits, "air pressure; else the gun's own"},
        Field{
            "laydown", &T::laydown, optional,
            "wet: droplets flow together; fog: they dry as dots; as it lands: together where the film is wet "
            "enough, as dots where it is thin"},
        Field{"masks", &T::masks, optional, items(0, 20), "masks of this plan that are on while it is laid"},
        Field{"even_coat", &T::even_coat, optional, "an even film everywhere"},
        Field{"fade", &T::fade, optional, "a change from one mix to another, instead of mix and passes"},
        Field{"sweeps", &T::sweeps, optional, items(0, 200), "areas laid with parallel passes"},
        Field{"outline_passes", &T::outline_passes, optional, items(0, 200), "lines followed at an offset"},
        Field{"passes", &T::passes, optional, items(0, 5000), "single movements of the gun"}};
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
              "quantities are shown in these: metric, or us (in, mil, fl oz, psi, °F); --units of a command "
              "comes "
              "first"},
        Field{"panel", &T::panel, required, "the piece"},
        Field{"booth", &T::booth, optional, "the air it is painted in"},
        Field{"view", &T::view, optional, "how it is looked at"},
        Field{"mixing", &T::mixing, optional, "what cups, scale and habits add to what lands"},
        Field{"mixes", &T::mixes, optional, items(0, 100), "what goes into the cups, by name"},
        Field{"masks", &T::masks, optional, items(0, 50), "what keeps paint off, by name"},
        Field{"coats", &T::coats, optional, items(0, 60), "what is laid, first coat first"}};
};

}  // namespace fadewright
