// The ways of making a fade, as words, as a table, as JSON and as a contact sheet.
//
// The sheet shows of every way the whole panel, a strip through the fade at the sheet's stated scale, and
// lightness and chroma along it; the figures stand beside it.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/render/fade_methods.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::string fade_text(const render::FadeMethodComparison& methods, const std::string& title);
[[nodiscard]] std::string fade_json(const render::FadeMethodComparison& methods, const std::string& title);
// pictures: one of the panel for every way, all of one size (contract).
[[nodiscard]] Picture fade_sheet(const render::FadeMethodComparison& methods, const std::string& title,
                                 const std::vector<Picture>& pictures);

}  // namespace fadewright::report
