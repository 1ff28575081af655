// A colour in plain words, as a painter would say it: "deep red-violet", "pale warm grey".
//
// Hue names follow the Lab hue angle, lightness follows L*, strength follows C*; light reds are pinks, dark
// oranges browns, dark yellows olives. The boundaries (src/report/colour_naming.cpp) are our own, as everyday
// colour names have no standard; they choose names only and enter no calculation.
//
// Checks     tests/report/colour_naming_test.cpp
#pragma once

#include "fadewright/colour/lab.h"

#include <string>

namespace fadewright::report {

[[nodiscard]] std::string colour_name(const colour::Lab& lab);

}  // namespace fadewright::report
