// One gun card made ready: its rules checked, its picture opened, everything in millimetres and seconds.
#pragma once

#include "fadewright/plan/gun_calibration.h"
#include "spray_pattern_picture.h"

#include <optional>

namespace fadewright::plan {

struct PreparedPatternCard {
    Picture picture;
    CardFrame frame;
    paint::MixedPaint mix;
    colour::Reflectance ground;  // inside
    film::SaundersonCorrection saunderson;
    double deposit_per_minute = 0;  // mL/min landed for each mm2 of a pass, or mm3 of a spot
    std::optional<double> flow;     // mL/min
    FlowSource flow_source = FlowSource::unknown;
    std::optional<double> deposit_from_scale;  // mL/min landed, by the scale
};

// Reports everything that is wrong; gives a card only if nothing is.
[[nodiscard]] std::optional<PreparedPatternCard> prepare_pattern_card(const SprayPatternCard& card,
                                                                      Library& library,
                                                                      const CardFiles& files,
                                                                      Diagnostics& diagnostics);

}  // namespace fadewright::plan
