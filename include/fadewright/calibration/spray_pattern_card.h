// The spray-pattern card file: what a painter notes about one pass or one spot sprayed on white card, field
// by field (spray_pattern_card_schema.h), unresolved. calibration/gun_calibration.h fits a gun to it.
//
// The picture shows the sprayed card with bare card on both sides of the pass (around a spot) and something
// of known length. Positions in the picture are pixels from its top left corner; directions are angles,
// counterclockwise from left to right.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/calibration/gun_fit.h"
#include "fadewright/plan/plan.h"
#include "fadewright/spray/gun.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::calibration {

// Something of known length in the picture.
struct ScaleBar {
    Millimetres length;
    std::vector<int> from, to;  // x, y of its two ends
    SourceSpan span;
};

// A patch in the picture whose lightness is known.
struct KnownPatch {
    std::vector<int> patch;  // left, top, width, height
    std::optional<double> L;
    std::optional<double> reflectance;
    SourceSpan span;
};

// Weight of the gun or its cup before and after spraying for some time.
struct WeighedFlow {
    Grams before, after;
    Seconds time;
    SourceSpan span;
};

// Weight of the dried paint on the card.
struct WeighedCard {
    Grams dry_weight;
    std::optional<Millimetres> length;  // of the pass, from edge to edge of the card
    SourceSpan span;
};

struct SprayPatternCard {
    int version = 1;
    std::string title;
    Located<std::string> picture;
    std::optional<Located<std::string>> paint;  // from the library, as it is
    std::optional<plan::Mix> mix;               // or a mix
    spray::Pattern pattern = spray::Pattern::round;
    calibration::ShotKind kind = calibration::ShotKind::pass;
    Millimetres distance;
    std::optional<MillimetresPerSecond> speed;  // pass
    int repeats = 1;                            // pass
    std::optional<Seconds> dwell;               // spot
    Located<Degrees> direction;                 // of travel, in the picture; spot: of the fan's short axis
    Located<std::vector<int>> region;           // left, top, width, height
    ScaleBar scale;
    Share thickness_share{0.25};  // thickness of the fan, as a share of its width; pass
    std::optional<Located<MillilitresPerMinute>> flow;
    std::optional<WeighedFlow> weighed_flow;
    std::optional<WeighedCard> weighed_card;
    std::optional<Share> transfer_efficiency;
    std::optional<Located<std::string>> ground;  // ground as light as the card
    std::optional<double> card_reflectance;
    std::optional<KnownPatch> reference;
    plan::Surface card_surface = plan::Surface::gloss;
    Micrometres droplet{30};
    Millimetres nozzle;
    Bar air;
    SourceSpan span;
};

}  // namespace fadewright::calibration
