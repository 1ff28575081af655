// What a gun card taught: in words, as JSON, and as a picture of the measured film against the fitted one.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/plan/gun_card.h"
#include "fadewright/text/shown_units.h"

#include <string>

namespace fadewright::report {

[[nodiscard]] std::string gun_card_words(const plan::LearnedGun& learned, ShownUnits units = {});
[[nodiscard]] std::string gun_card_json(const plan::LearnedGun& learned);

// One plot across the travel, and of a spot a second one along it.
[[nodiscard]] Picture gun_card_plot(const plan::LearnedGun& learned, ShownUnits units = {});

}  // namespace fadewright::report
