// Report of a gun fitted to a spray-pattern card: as text, as JSON, and as a plot of measured and fitted
// film.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/calibration/gun_calibration.h"
#include "fadewright/text/display_units.h"

#include <string>

namespace fadewright::report {

[[nodiscard]] std::string gun_calibration_text(const calibration::GunCalibration& calibration,
                                               DisplayUnits units = {});
[[nodiscard]] std::string gun_calibration_json(const calibration::GunCalibration& calibration);

// One plot across the travel, and of a spot a second one along it.
[[nodiscard]] Picture gun_calibration_plot(const calibration::GunCalibration& calibration,
                                           DisplayUnits units = {});

}  // namespace fadewright::report
