// Prepares one spray-pattern card: its rules checked, its picture opened, all values in millimetres and
// seconds.
#pragma once

#include "fadewright/calibration/gun_calibration.h"
#include "spray_pattern_picture.h"

#include <optional>

namespace fadewright::calibration {

struct PreparedPatternCard {
    Picture picture;
    CardFrame frame;
    paint::MixedPaint mix;
    colour::Reflectance ground;  // below the surface
    film::SaundersonCorrection saunderson;
    double deposit_per_minute = 0;  // mL/min deposited per mm2 of a pass, or mm3 of a spot
    std::optional<double> flow;     // mL/min
    FlowSource flow_source = FlowSource::unknown;
    std::optional<double> deposit_from_scale;  // mL/min deposited, from the scale
};

// Reports all errors; returns a card only if there is none.
[[nodiscard]] std::optional<PreparedPatternCard> prepare_pattern_card(const SprayPatternCard& card,
                                                                      plan::Library& library,
                                                                      const CardFiles& files,
                                                                      Diagnostics& diagnostics);

}  // namespace fadewright::calibration
