// What a card taught, and what it could not say: in words, and as JSON.
#pragma once

#include "fadewright/plan/card.h"
#include "fadewright/text/shown_units.h"

#include <string>

namespace fadewright::report {

// One line per stretch of the spectrum, then the bands one by one.
[[nodiscard]] std::string card_words(const plan::LearnedPaint& learned, ShownUnits units = {});
[[nodiscard]] std::string card_json(const plan::LearnedPaint& learned);

}  // namespace fadewright::report
