// How different two colours look: CIEDE2000.
//
// Source     ISO/CIE 11664-6; G. Sharma, W. Wu, E. N. Dalal 2005, Color Research & Application 30(1):21-30,
//            doi:10.1002/col.20070 (formula and test data)
// Holds for  pairs less than about 5 apart, on a neutral surround; larger numbers rank but do not measure.
// Hues exactly
//            180 degrees apart are decided in double precision by the published branch.
// Accuracy   all 34 published pairs to 5e-5 (they are printed to four places), the same in both orders
// Checks     tests/colour/delta_e_test.cpp
#pragma once

#include "fadewright/colour/lab.h"

namespace fadewright::colour {

[[nodiscard]] double delta_e_2000(const Lab& first, const Lab& second) noexcept;

}  // namespace fadewright::colour
