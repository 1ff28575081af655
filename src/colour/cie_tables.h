// The compiled-in tables of src/colour/tables, read when they are first asked for.
#pragma once

#include <string_view>
#include <vector>

namespace fadewright::colour {

// Columns of a table; the first is the wavelength in nanometres.
[[nodiscard]] std::vector<std::vector<double>> cie_table_columns(std::string_view file);

}  // namespace fadewright::colour
