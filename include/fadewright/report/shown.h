// Colours and figures as they are shown everywhere: rounded alike in text, on sheets and in JSON.
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/paint/paint.h"
#include "fadewright/report/canvas.h"

#include <nlohmann/json_fwd.hpp>
#include <string>

namespace fadewright::report {

[[nodiscard]] Rgb shown(const colour::Lab& lab);             // 8-bit sRGB
[[nodiscard]] std::string hex_of(const colour::Lab& lab);    // "#d97a4a", the same values
[[nodiscard]] std::string lab_text(const colour::Lab& lab);  // "62.1 41.0 38.2"
// As JSON holds them.
[[nodiscard]] double thousandths(double v);
[[nodiscard]] double millionths(double v);
[[nodiscard]] std::string ratio_text(double parts_of_b);  // "1 : 9.3" or "9.3 : 1"
[[nodiscard]] Rgb ink_on(const colour::Lab& lab);         // black or white, whichever reads better on it

[[nodiscard]] std::string origin_words(paint::Origin origin);  // "estimated"

// {"lab": [..], "srgb": "#rrggbb", "words": ".."}
void put_colour(nlohmann::ordered_json& json, const char* name, const colour::Lab& lab);

}  // namespace fadewright::report
