// One gun card made ready: its rules checked, its picture opened, everything in millimetres and seconds.
#pragma once

#include "fadewright/plan/gun_card.h"
#include "gun_card_picture.h"

#include <optional>

namespace fadewright::plan {

struct ReadyGunCard {
    Picture picture;
    CardFrame frame;
    paint::MixedPaint mix;
    colour::Reflectance ground;  // inside
    film::Skin skin;
    double per_minute = 0;       // mL/min landed for each mm2 of a pass, or mm3 of a spot
    std::optional<double> flow;  // mL/min
    FlowBy flow_by = FlowBy::unknown;
    std::optional<double> weighed;  // mL/min landed, by the scale
};

// Reports everything that is wrong; gives a card only if nothing is.
[[nodiscard]] std::optional<ReadyGunCard> ready_gun_card(const GunCardFile& card, Shelf& shelf,
                                                         const CardFiles& files, Diagnostics& diagnostics);

}  // namespace fadewright::plan
