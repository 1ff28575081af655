// The sheets of `preview --show`.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/assess/defects.h"
#include "fadewright/colour/profile.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/preview.h"
#include "outcome.h"

#include <nlohmann/json_fwd.hpp>

#include <optional>
#include <string>
#include <vector>

namespace fadewright::app {

enum class PreviewSheetKind { coats, passes, film, defects, graininess };

struct PreviewSheetSelection {
    PreviewSheetKind kind = PreviewSheetKind::passes;
    std::size_t coat = 0;  // of `film`
};

// "coats", "passes", "defects", "graininess", or "film:" with the name or number of a coat; otherwise a
// failure that lists the choices.
[[nodiscard]] Attempt<PreviewSheetSelection> parse_sheet_selection(const std::string& text,
                                                                   const plan::Job& job);

struct PreviewSheet {
    Picture picture;
    double pixels_per_metre = 0;
    std::vector<assess::Defect> defects;  // of PreviewSheetKind::defects
};

[[nodiscard]] PreviewSheet draw_preview_sheet(const PreviewSheetSelection& choice, const plan::Job& job,
                                              const colour::Illuminant& light,
                                              const colour::OutputProfile& profile,
                                              render::PreviewSettings settings);

// Problems and risks, one line each, and the number of checks that found none.
[[nodiscard]] std::string defects_text(const std::vector<assess::Defect>& defects, DisplayUnits units);
[[nodiscard]] nlohmann::ordered_json defects_json(const std::vector<assess::Defect>& defects,
                                                  DisplayUnits units);

}  // namespace fadewright::app
