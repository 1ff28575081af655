// The compiled-in tables of src/colour/tables, read when they are first asked for.
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

namespace fadewright::colour {

// Columns of a table; the first is the wavelength in nanometres.
[[nodiscard]] std::vector<std::vector<double>> cie_table_columns(std::string_view file);

// Lagrange interpolation of evenly spaced values.

// The value at nm, by the polynomial through the `points` values nearest to it; 0 beyond the table, which has
// at least that many values (contract).
[[nodiscard]] double lagrange(const std::vector<double>& wavelengths_nm, const std::vector<double>& values,
                              double nm, std::size_t points);

}  // namespace fadewright::colour
