// Report of a paint fitted to a spray-out card: what is known and what is not, as text and as JSON.
#pragma once

#include "fadewright/calibration/paint_calibration.h"
#include "fadewright/text/display_units.h"

#include <string>

namespace fadewright::report {

// One line per wavelength range, then every band.
[[nodiscard]] std::string paint_calibration_text(const calibration::PaintCalibration& calibration,
                                                 DisplayUnits units = {});
[[nodiscard]] std::string paint_calibration_json(const calibration::PaintCalibration& calibration);

}  // namespace fadewright::report
