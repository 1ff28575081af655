// Text of the booth sheet, the same in text, on paper and as HTML.
#pragma once

#include "fadewright/report/booth_sheet.h"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::string amount_text(Millilitres amount, DisplayUnits units);  // "38.5 mL", three digits
[[nodiscard]] std::string grams_text(Grams amount, Grams division);  // as the scale shows it, without "g"
[[nodiscard]] std::string percent_text(Share share);                 // "9.1"
[[nodiscard]] std::string parts_text(double parts);
[[nodiscard]] std::string drying_time_text(Seconds time);  // rounded up: "35 min", or kWillNotDry

inline constexpr std::string_view kWillNotDry = "will not dry in these conditions";

// Two sentences at the foot of every page and at the end of the text and of the HTML file.
inline constexpr std::string_view kFooterCaution =
    "Extraction on, supplied-air respirator for 2K paint, no sparks.";
inline constexpr std::string_view kFooterPrecedence =
    "Local law, safety data sheets and licensed practice come first.";

// "4 cups of 30 mL"
[[nodiscard]] std::string cups_text(const production::MixAmounts& mix, const plan::ShopSettings& shop,
                                    DisplayUnits units);
// "38.5 mL on the panel, 38.4 mL lost as overspray, ...": what becomes of a mix.
[[nodiscard]] std::string balance_text(const production::MixAmounts& mix, DisplayUnits units);
// Components that the scale cannot weigh accurately, and the remedy; empty if there are none.
[[nodiscard]] std::string scale_warning(const production::MixAmounts& mix, const plan::ShopSettings& shop,
                                        DisplayUnits units);
// "contains 8.9 mL of 'plum' ..."; empty if it contains no other mix.
[[nodiscard]] std::string contained_mixes_text(const production::MixAmounts& mix, DisplayUnits units);
// Reducer as a share of paint and of mix, solids, and binder per litre ready to spray.
[[nodiscard]] std::string solids_text(const production::MixAmounts& mix, DisplayUnits units);
// How often its flakes must be stirred; empty without flakes.
[[nodiscard]] std::string stir_text(const BoothSheet& sheet, const std::string& mix);
// Dangers of dry flake powder; empty without flakes.
[[nodiscard]] std::string flake_powder_text(const BoothSheet& sheet, const std::string& mix);

// Name and value: "Gun", "Fan gun, large"; none for a coat without a gun.
using Setting = std::pair<std::string, std::string>;
[[nodiscard]] std::vector<Setting> gun_settings(const BoothSheet& sheet, std::size_t index);

// "Even coat, ..." of a coat given by its film; "6 passes, 1 min 05 s trigger time, ..." of one given by
// passes.
[[nodiscard]] std::string even_coat_text(const plan::ResolvedCoat& coat,
                                         const production::CoatAmounts& amounts, DisplayUnits units);
[[nodiscard]] std::string passes_text(const production::CoatAmounts& amounts, DisplayUnits units);

// What to check while spraying and after: wet film, dots, and predicted defects.
[[nodiscard]] std::vector<std::string> checkpoints(const BoothSheet& sheet, std::size_t index);

// The fixed cautions, then the plan's own (report/cautions.h).
[[nodiscard]] std::vector<std::string> safety_lines(const plan::ShopSettings& shop);

// Coats that follow one another with one mix and one gun, first and behind the last.
struct CoatGroup {
    std::size_t begin = 0, end = 0;
};
[[nodiscard]] std::vector<CoatGroup> coat_groups(const BoothSheet& sheet);

}  // namespace fadewright::report
