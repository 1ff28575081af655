// Everything the page shows of a plan but pictures: pots, panel, coats, and what is wrong.
#pragma once

#include "answer.h"
#include "desk.h"

namespace fadewright::serve {

[[nodiscard]] Answer looked(Desk& desk, const Asked& asked);

// The pots: mixes of the plan, then the middles that its fades mix (pots.cpp).
[[nodiscard]] Json pots_of(const InWork& work);
// The cup that a fade's middle is mixed in, of several the one halfway; null if it mixes none.
[[nodiscard]] const Named<plan::Mix>* middle_cup(const InWork& work, std::size_t coat);
// The coats, first coat first (coats.cpp).
[[nodiscard]] Json coats_of(const InWork& work);

[[nodiscard]] Json point_json(const plan::Point& point);

}  // namespace fadewright::serve
