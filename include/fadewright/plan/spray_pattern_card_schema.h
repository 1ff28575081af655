// The fields of the gun card file, each said once (text/schema.h).
#pragma once

#include "fadewright/plan/library_schema.h"
#include "fadewright/plan/spray_pattern_card.h"

namespace fadewright {

template <>
struct Names<spray::ShotKind> {
    static constexpr std::array<std::pair<spray::ShotKind, std::string_view>, 2> list{
        {{spray::ShotKind::pass, "pass"}, {spray::ShotKind::spot, "spot"}}};
};

namespace plan {
inline constexpr Limits kPixelLimits = items(2, 2, range(0, 100'000));
inline constexpr Limits kRectangleLimits = items(4, 4, range(0, 100'000));
inline constexpr Limits kWeightLimits = range(Grams{1e-4}, Grams{10'000.0});
inline constexpr Limits kTriggerLimits = range(Seconds{0.02}, Seconds{600.0});
}  // namespace plan

template <>
struct Schema<plan::ScaleBar> {
    using T = plan::ScaleBar;
    static constexpr std::string_view name = "scale bar";
    static constexpr std::string_view about =
        "something of known length in the picture: a ruler, a printed bar";
    static constexpr auto fields = Fields{
        Field{"length", &T::length, required, range(5_mm, 2000_mm), "from one end to the other"},
        Field{"from", &T::from, required, plan::kPixelLimits, "one end in the picture: x, y in pixels"},
        Field{"to", &T::to, required, plan::kPixelLimits, "the other end"}};
};

template <>
struct Schema<plan::KnownPatch> {
    using T = plan::KnownPatch;
    static constexpr std::string_view name = "reference";
    static constexpr std::string_view about =
        "a neutral patch of known lightness beside the card; it tells how light the card itself is";
    static constexpr auto fields = Fields{
        Field{"patch", &T::patch, required, plan::kRectangleLimits, "left, top, width, height in pixels"},
        Field{"L", &T::L, optional, range(1.0, 100.0), "its L*, if that is known"},
        Field{"reflectance", &T::reflectance, optional, range(0.001, 1.0),
              "its reflectance, if that is known"}};
};

template <>
struct Schema<plan::WeighedFlow> {
    using T = plan::WeighedFlow;
    static constexpr std::string_view name = "weighed cup";
    static constexpr std::string_view about = "the flow by the scale: the gun or its cup before and after";
    static constexpr auto fields =
        Fields{Field{"before", &T::before, required, plan::kWeightLimits, "before the trigger is pulled"},
               Field{"after", &T::after, required, plan::kWeightLimits, "afterwards"},
               Field{"time", &T::time, required, plan::kTriggerLimits, "for which it was pulled"}};
};

template <>
struct Schema<plan::WeighedCard> {
    using T = plan::WeighedCard;
    static constexpr std::string_view name = "weighed card";
    static constexpr std::string_view about =
        "the dried card on the scale; what it says of the paint landed goes before what the picture says";
    static constexpr auto fields =
        Fields{Field{"dry_weight", &T::dry_weight, required, plan::kWeightLimits,
                     "weight of the dried paint, without the card"},
               Field{"length", &T::length, optional, range(10_mm, 5000_mm),
                     "of the pass over the card, from edge to edge; a pass needs it"}};
};

template <>
struct Schema<plan::SprayPatternCard> {
    using T = plan::SprayPatternCard;
    static constexpr std::string_view name = "gun card";
    static constexpr std::string_view about = "one pass or one spot sprayed on white card, and its picture";
    static constexpr auto fields = Fields{
        Field{"spray_pattern_card", &T::version, required, plan::kVersionLimits,
              "version of the gun card format"},
        Field{"title", &T::title, required, "what the gun, set like this, is called"},
        Field{"picture", &T::picture, required, "scan or photograph, PNG or JPEG, beside this file"},
        Field{"paint", &T::paint, optional, "what was sprayed: a paint of the shelf as it is; or [mix]"},
        Field{"pattern", &T::pattern, required, "shape of the spray that is looked for"},
        Field{"kind", &T::kind, required,
              "one straight pass over the card, or one spot with the gun held still"},
        Field{"distance", &T::distance, required, plan::kDistanceLimits, "nozzle to card"},
        Field{"speed", &T::speed, optional, plan::kSpeedLimits, "travel of a pass"},
        Field{"repeats", &T::repeats, optional, plan::kRepeatLimits, "passes laid one on the other"},
        Field{"dwell", &T::dwell, optional, plan::kTriggerLimits, "how long a spot was sprayed"},
        Field{"direction", &T::direction, optional, range(Degrees{-180.0}, Degrees{180.0}),
              "of the pass in the picture, anticlockwise from left-to-right; of a fan's spot: of its short "
              "axis"},
        Field{"region", &T::region, required, plan::kRectangleLimits,
              "what to read: left, top, width, height in pixels; bare card at its edges, no end of the pass"},
        Field{"scale", &T::scale, required, "something of known length"},
        Field{"thickness_share", &T::thickness_share, optional, range(5_pct, 100_pct),
              "a pass does not show a fan's depth: taken as this share of its width"},
        Field{"flow", &T::flow, optional, plan::kFlowLimits,
              "paint leaving the gun, if it was measured; or [cup]"},
        Field{"transfer_efficiency", &T::transfer_efficiency, optional, range(1_pct, 100_pct),
              "share that lands, for a gun whose flow is not known"},
        Field{"ground", &T::ground, optional, "the card is as light as this ground; else white-primer"},
        Field{"card_reflectance", &T::card_reflectance, optional, range(0.2, 0.95),
              "reflectance of the bare card, shine left out; instead of a ground"},
        Field{"card_surface", &T::card_surface, optional,
              "gloss: a skin over card and paint; matt: paper, and paint too thin to shine"},
        Field{"droplet", &T::droplet, optional, range(1_um, 300_um), "mean droplet, for the gun's file"},
        Field{"nozzle", &T::nozzle, optional, range(0_mm, 5_mm), "fluid tip, for the gun's file"},
        Field{"air", &T::air, optional, range(Bar{0.0}, Bar{8.0}), "air pressure, for the gun's file"},
        Field{"mix", &T::mix, optional, "what was sprayed, if it was mixed or reduced"},
        Field{"weighed_flow", &T::weighed_flow, optional, "the flow by the scale"},
        Field{"weighed_card", &T::weighed_card, optional, "the dried card on the scale"},
        Field{"reference", &T::reference, optional, "a patch of known lightness"}};
};

}  // namespace fadewright
