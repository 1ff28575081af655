// Ladders of mixes with flakes: every rung at the viewing angles, and where it turns milky.
#pragma once

#include "fadewright/report/ladder.h"

namespace fadewright::report {

[[nodiscard]] bool has_flakes(const Ladder& ladder);
[[nodiscard]] std::vector<std::string> describe_chroma_peaks(
    const Ladder& ladder);  // none if varies_film_or_loading is false
[[nodiscard]] std::string flake_rungs_text(const Ladder& ladder);
void add_flakes_json(nlohmann::ordered_json& json, const Rung& rung);

// Rows are rungs; columns are grounds, each at 15°, 45° and 110°.
[[nodiscard]] Picture flake_ladder_sheet(const Ladder& ladder);

}  // namespace fadewright::report
