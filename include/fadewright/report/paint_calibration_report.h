// What a card taught, and what it could not say: in words, and as JSON.
#pragma once

#include "fadewright/plan/paint_calibration.h"
#include "fadewright/text/display_units.h"

#include <string>

namespace fadewright::report {

// One line per stretch of the spectrum, then the bands one by one.
[[nodiscard]] std::string paint_calibration_text(const plan::PaintCalibration& calibration,
                                                 DisplayUnits units = {});
[[nodiscard]] std::string paint_calibration_json(const plan::PaintCalibration& calibration);

}  // namespace fadewright::report
