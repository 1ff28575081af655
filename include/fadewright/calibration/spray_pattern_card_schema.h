// The fields of a spray-pattern card file, each listed once (text/schema.h).
#pragma once

#include "fadewright/calibration/spray_pattern_card.h"
#include "fadewright/plan/library_schema.h"

namespace fadewright {

template <>
struct Names<calibration::ShotKind> {
    static constexpr std::array<std::pair<calibration::ShotKind, std::string_view>, 2> list{
        {{calibration::ShotKind::pass, "pass"}, {calibration::ShotKind::spot, "spot"}}};
};

namespace calibration {
inline constexpr Limits kPixelLimits = items(2, 2, range(0, 100'000));
inline constexpr Limits kRectangleLimits = items(4, 4, range(0, 100'000));
inline constexpr Limits kWeightLimits = range(Grams{1e-4}, Grams{10'000.0});
inline constexpr Limits kTriggerLimits = range(Seconds{0.02}, Seconds{600.0});
}  // namespace calibration

template <>
struct Schema<calibration::ScaleBar> {
    using T = calibration::ScaleBar;
    static constexpr std::string_view name = "scale bar";
    static constexpr std::string_view about =
        "something of known length in the picture: a ruler or a printed bar";
    static constexpr auto fields =
        Fields{Field{"length", &T::length, required, range(5_mm, 2000_mm), "from one end to the other"},
               Field{"from", &T::from, required, calibration::kPixelLimits,
                     "one end in the picture: x, y in pixels"},
               Field{"to", &T::to, required, calibration::kPixelLimits, "the other end"}};
};

template <>
struct Schema<calibration::KnownPatch> {
    using T = calibration::KnownPatch;
    static constexpr std::string_view name = "reference";
    static constexpr std::string_view about =
        "a neutral patch of known lightness next to the card; it gives the lightness of the card";
    static constexpr auto fields =
        Fields{Field{"patch", &T::patch, required, calibration::kRectangleLimits,
                     "left, top, width, height in pixels"},
               Field{"L", &T::L, optional, range(1.0, 100.0), "L* of the patch, if known"},
               Field{"reflectance", &T::reflectance, optional, range(0.001, 1.0),
                     "reflectance of the patch, if known"}};
};

template <>
struct Schema<calibration::WeighedFlow> {
    using T = calibration::WeighedFlow;
    static constexpr std::string_view name = "weighed flow";
    static constexpr std::string_view about =
        "flow from weighing the gun or its cup before and after spraying";
    static constexpr auto fields = Fields{
        Field{"before", &T::before, required, calibration::kWeightLimits, "weight before spraying"},
        Field{"after", &T::after, required, calibration::kWeightLimits, "weight after spraying"},
        Field{"time", &T::time, required, calibration::kTriggerLimits, "how long the trigger was pulled"}};
};

template <>
struct Schema<calibration::WeighedCard> {
    using T = calibration::WeighedCard;
    static constexpr std::string_view name = "weighed card";
    static constexpr std::string_view about = "weight of the dried card; overrides the photo";
    static constexpr auto fields =
        Fields{Field{"dry_weight", &T::dry_weight, required, calibration::kWeightLimits,
                     "weight of the dried paint, without the card"},
               Field{"length", &T::length, optional, range(10_mm, 5000_mm),
                     "length of the pass on the card, edge to edge; required for a pass"}};
};

template <>
struct Schema<calibration::SprayPatternCard> {
    using T = calibration::SprayPatternCard;
    static constexpr std::string_view name = "spray-pattern card";
    static constexpr std::string_view about = "one pass or one spot sprayed on white card, with its picture";
    static constexpr auto fields = Fields{
        Field{"spray_pattern_card", &T::version, required, plan::kVersionLimits,
              "version of the spray-pattern card format"},
        Field{"title", &T::title, required, "name of the gun with these settings"},
        Field{"picture", &T::picture, required, "scan or photo, PNG or JPEG, in this file's folder"},
        Field{"paint", &T::paint, optional,
              "what was sprayed: a paint from the library as it is; or give [mix]"},
        Field{"pattern", &T::pattern, required, "spray pattern to fit"},
        Field{"kind", &T::kind, required, "pass: one straight pass over the card; spot: gun held still"},
        Field{"distance", &T::distance, required, plan::kDistanceLimits, "nozzle to card"},
        Field{"speed", &T::speed, optional, plan::kSpeedLimits, "pass: travel speed"},
        Field{"repeats", &T::repeats, optional, plan::kRepeatLimits,
              "pass: how many passes on top of each other"},
        Field{"dwell", &T::dwell, optional, calibration::kTriggerLimits, "spot: how long it was sprayed"},
        Field{"direction", &T::direction, optional, range(Degrees{-180.0}, Degrees{180.0}),
              "direction of travel in the picture, counterclockwise, 0 = left to right; spot of a fan: "
              "direction of its short axis"},
        Field{
            "region", &T::region, required, calibration::kRectangleLimits,
            "area to read: left, top, width, height in pixels; bare card along its edges, no end of the pass "
            "in it"},
        Field{"scale", &T::scale, required, "something of known length"},
        Field{"thickness_share", &T::thickness_share, optional, range(5_pct, 100_pct),
              "pass of a fan: thickness of the fan, % of its width (a pass does not show it)"},
        Field{"flow", &T::flow, optional, plan::kFlowLimits,
              "fluid flow (delivery rate), if known; or give [weighed_flow]"},
        Field{"transfer_efficiency", &T::transfer_efficiency, optional, range(1_pct, 100_pct),
              "transfer efficiency, for a gun whose flow is not known"},
        Field{"ground", &T::ground, optional, "the card is as light as this ground; default: white-primer"},
        Field{"card_reflectance", &T::card_reflectance, optional, range(0.2, 0.95),
              "reflectance of the bare card, specular excluded; instead of a ground"},
        Field{"card_surface", &T::card_surface, optional, "gloss: coated card; matt: uncoated paper"},
        Field{"droplet", &T::droplet, optional, range(1_um, 300_um), "mean droplet size, for the gun file"},
        Field{"nozzle", &T::nozzle, optional, range(0_mm, 5_mm), "fluid tip size, for the gun file"},
        Field{"air", &T::air, optional, range(Bar{0.0}, Bar{8.0}), "air pressure, for the gun file"},
        Field{"mix", &T::mix, optional, "what was sprayed, if mixed or reduced"},
        Field{"weighed_flow", &T::weighed_flow, optional, "flow from weighing the cup"},
        Field{"weighed_card", &T::weighed_card, optional, "weight of the dried card"},
        Field{"reference", &T::reference, optional, "a patch of known lightness"}};
};

}  // namespace fadewright
