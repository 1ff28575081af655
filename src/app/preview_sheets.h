// What `preview --show` asks for, and the sheet that answers it.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/colour/profile.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/defects.h"
#include "fadewright/render/preview.h"

#include <nlohmann/json_fwd.hpp>

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace fadewright::app {

enum class PreviewSheetKind { coats, passes, film, defects, graininess };

struct PreviewSheetSelection {
    PreviewSheetKind kind = PreviewSheetKind::passes;
    std::size_t coat = 0;  // of `film`
};

// "coats", "passes", "faults", "grain", or "film:" with a coat's name or number; else the outcome that says what there
// is.
[[nodiscard]] std::variant<PreviewSheetSelection, Outcome> parse_sheet_selection(const std::string& text,
                                                                                 const plan::Job& job);

struct PreviewSheet {
    Picture picture;
    double pixels_per_metre = 0;
    std::vector<render::Defect> defects;  // of Show::faults
};

[[nodiscard]] PreviewSheet draw_preview_sheet(const PreviewSheetSelection& choice, const plan::Job& job,
                                              const colour::Illuminant& light,
                                              const colour::OutputProfile& profile,
                                              render::PreviewSettings settings);

// What is wrong and what to watch, one line each, and how many checks found nothing.
[[nodiscard]] std::string defects_text(const std::vector<render::Defect>& defects);
[[nodiscard]] nlohmann::ordered_json defects_json(const std::vector<render::Defect>& defects);

}  // namespace fadewright::app
