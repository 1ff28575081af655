// Colours and figures for text, sheets and JSON, rounded the same way everywhere.
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/paint/paint.h"
#include "fadewright/report/canvas.h"

#include <nlohmann/json_fwd.hpp>
#include <string>

namespace fadewright::report {

[[nodiscard]] Rgb display_rgb(const colour::Lab& lab);         // 8-bit sRGB
[[nodiscard]] std::string hex_colour(const colour::Lab& lab);  // "#d97a4a", the same values
[[nodiscard]] std::string lab_text(const colour::Lab& lab);    // "62.1 41.0 38.2"
// For JSON.
[[nodiscard]] double round_to_thousandths(double v);
[[nodiscard]] double round_to_millionths(double v);
[[nodiscard]] std::string ratio_text(double parts_of_b);    // "1 : 9.3" or "9.3 : 1"
[[nodiscard]] Rgb contrasting_ink(const colour::Lab& lab);  // black or white, by contrast

// Whole seconds, rounded up.
[[nodiscard]] std::string clock_text(Seconds time);     // "0:28", "1:08"
[[nodiscard]] std::string duration_text(Seconds time);  // "28 s", "1 min 08 s"

[[nodiscard]] std::string provenance_label(paint::Provenance origin);  // "estimated"

// {"lab": [..], "srgb": "#rrggbb", "colour_name": ".."}
void add_colour_json(nlohmann::ordered_json& json, const char* name, const colour::Lab& lab);

}  // namespace fadewright::report
