// A colour in plain words, as a painter would say it: "deep red-violet", "pale warm grey".
//
// Hue names by Lab hue angle, lightness by L*, strength by C*. The boundaries are ours (everyday colour words
// have no standard); they only choose words and enter no calculation.
#pragma once

#include "fadewright/colour/lab.h"

#include <string>

namespace fadewright::colour {

[[nodiscard]] std::string colour_words(const Lab& lab);

}  // namespace fadewright::colour
