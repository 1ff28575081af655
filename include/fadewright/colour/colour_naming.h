// A colour in plain words, as a painter would say it: "deep red-violet", "pale warm grey".
//
// Hue names go by the Lab hue angle, lightness by L*, strength by C*; light reds are pinks, dark oranges
// browns, dark yellows olives. The boundaries stand in src/colour/words.cpp and are ours, as everyday colour
// words have no standard; they only choose words and enter no calculation.
//
// Checks     tests/colour/words_test.cpp
#pragma once

#include "fadewright/colour/lab.h"

#include <string>

namespace fadewright::colour {

[[nodiscard]] std::string colour_name(const Lab& lab);

}  // namespace fadewright::colour
