// Flop index: how much a metallic or pearl darkens from near-specular to far aspecular angles.
//
//     FI = 2.69 (L15 - L110)^1.11 / L45^0.86
//
// L15, L45, L110 are the lightness (L*), lit at 45 degrees, at the aspecular angles 15, 45 and 110 degrees. A
// solid colour has 0, a strong metallic about 15. L15 above 100 is valid: brighter there than a white sheet.
//
// Source: [alman1987].
// Holds for  L45 above 0; 0 for a colour that gets lighter away from the specular direction, or with L45 = 0
// Checks     tests/colour/flop_test.cpp, tests/published/flop_index.csv
#pragma once

namespace fadewright::colour {

[[nodiscard]] double flop_index(double L15, double L45, double L110) noexcept;

}  // namespace fadewright::colour
