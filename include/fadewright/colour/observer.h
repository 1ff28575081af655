// Standard observers: CIE colour-matching functions for 2 and 10 degree fields.
#pragma once

#include <vector>

namespace fadewright::colour {

enum class Observer { two_degree, ten_degree };

// The published 5 nm table; wavelengths in nanometres, increasing.
struct ColourMatchingFunctions {
    std::vector<double> wavelengths_nm;
    std::vector<double> x, y, z;
};

// Source: [iso11664-1], tables compiled in from src/colour/tables/observer_*.csv.
[[nodiscard]] const ColourMatchingFunctions& colour_matching_functions(Observer observer);

}  // namespace fadewright::colour
