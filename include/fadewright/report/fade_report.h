// The methods for a fade compared: as text with a table, as JSON and as a contact sheet.
//
// The sheet shows for every method the whole panel, a strip through the fade at the sheet's stated scale,
// lightness and chroma, slope and film build along it, and the figures.
#pragma once

#include "fadewright/assess/fade_methods.h"
#include "fadewright/base/image.h"

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::string fade_text(const assess::FadeMethodComparison& methods, const std::string& title);
[[nodiscard]] std::string fade_json(const assess::FadeMethodComparison& methods, const std::string& title);
// pictures: one of the panel for every method, all of one size (contract).
[[nodiscard]] Picture fade_sheet(const assess::FadeMethodComparison& methods, const std::string& title,
                                 const std::vector<Picture>& pictures);

// Edits of the plan's text that lead from the fade of `before` to that of `after`, in the form in which
// requests carry them: set and to, or remove; an empty list without a fade.
[[nodiscard]] nlohmann::ordered_json plan_edits_json(const plan::Plan& before, const plan::Plan& after);

}  // namespace fadewright::report
