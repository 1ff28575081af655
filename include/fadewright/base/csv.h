// Cells of CSV files, and the tables of numbers that are compiled in.
//
// Source: [rfc4180]
// Checks     tests/base/csv_test.cpp
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace fadewright {

// Text as a cell, quoted where it must be.
[[nodiscard]] std::string csv_cell(std::string_view text);

// Rows of a table of numbers: after comment lines, which begin with '#', and one line of column names. Every
// row has as many numbers as there are names; a table that is not so breaks a contract.
[[nodiscard]] std::vector<std::vector<double>> number_table(std::string_view text);

}  // namespace fadewright
