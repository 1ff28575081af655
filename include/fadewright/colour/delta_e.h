// Colour difference: CIEDE2000.
//
// Source: [iso11664-6]; [sharma2005] (formula and test data).
// Holds for  pairs less than about 5 apart, on a neutral surround; larger numbers rank but do not measure.
//            Hues exactly 180 degrees apart take the published branch, in double precision.
// Accuracy   all 34 published pairs to 5e-5 (they are printed to four places), the same in both orders
// Checks     tests/colour/delta_e_test.cpp
#pragma once

#include "fadewright/colour/lab.h"

namespace fadewright::colour {

// Colours closer than this look the same: no fade between them is visible.
inline constexpr double kIndistinguishable_dE = 1;

[[nodiscard]] double delta_e_2000(const Lab& first, const Lab& second) noexcept;

}  // namespace fadewright::colour
