// The files that a card refers to: pictures and measurements beside it.
#pragma once

#include "fadewright/calibration/paint_calibration.h"

#include <string>

namespace fadewright::app {

[[nodiscard]] calibration::CardFiles card_files(const std::string& card_path);

}  // namespace fadewright::app
