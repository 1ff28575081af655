// Lagrange interpolation of evenly spaced values.
#pragma once

#include <cstddef>
#include <vector>

namespace fadewright::colour {

// The value at nm, by the polynomial through the `points` values nearest to it; 0 beyond the table, which has
// at least that many values (contract).
[[nodiscard]] double lagrange(const std::vector<double>& wavelengths_nm, const std::vector<double>& values,
                              double nm, std::size_t points);

}  // namespace fadewright::colour
