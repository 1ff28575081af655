// What the booth sheet says, the same in text, on paper and as HTML.
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
[[nodiscard]] std::string drying_time_text(Seconds time);  // rounded up: "35 min"
[[nodiscard]] std::string time_text(Seconds time);         // "1:05"

// "4 cups of 30 mL"
[[nodiscard]] std::string cups_text(const plan::MixAmounts& mix, const plan::ShopSettings& shop,
                                    DisplayUnits units);
// "38.5 mL lands, 38.4 mL is lost, ...": where a mix goes.
[[nodiscard]] std::string balance_text(const plan::MixAmounts& mix, DisplayUnits units);
// What the scale cannot weigh well, and what would help; empty if it can weigh everything.
[[nodiscard]] std::string scale_warning(const plan::MixAmounts& mix, const plan::ShopSettings& shop,
                                        DisplayUnits units);
// "holds 8.9 mL of 'plum' ..."; empty if it holds no other mix.
[[nodiscard]] std::string contained_mixes_text(const plan::MixAmounts& mix, DisplayUnits units);
// Reducer of paint and of mix, solids, and binder in a litre as sprayed.
[[nodiscard]] std::string solids_text(const plan::MixAmounts& mix, DisplayUnits units);
// How soon its flakes must be stirred up again; empty without flakes.
[[nodiscard]] std::string stir_text(const BoothSheet& sheet, const std::string& mix);

// A name and what it is set to: "Gun", "Fan gun, large"; nothing for a coat without a gun.
using Setting = std::pair<std::string, std::string>;
[[nodiscard]] std::vector<Setting> gun_settings(const BoothSheet& sheet, std::size_t index);

// "Evenly all over, ..." of a coat that says only its film; "6 passes, 1:05 min at the gun, ..." of a sprayed one.
[[nodiscard]] std::string even_coat_text(const plan::ResolvedCoat& coat, const plan::CoatAmounts& amounts,
                                         DisplayUnits units);
[[nodiscard]] std::string passes_text(const plan::CoatAmounts& amounts, DisplayUnits units);

// What to see while it is laid and after: wet film, dots, and what may go wrong.
[[nodiscard]] std::vector<std::string> checkpoints(const BoothSheet& sheet, std::size_t index);

// The plan's own, or the usual.
[[nodiscard]] std::vector<std::string> safety_lines(const plan::ShopSettings& shop);

// Coats that follow one another with one mix and one gun, first and behind the last.
struct CoatGroup {
    std::size_t begin = 0, end = 0;
};
[[nodiscard]] std::vector<CoatGroup> coat_groups(const BoothSheet& sheet);

}  // namespace fadewright::report
