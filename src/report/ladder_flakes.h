// Ladders of mixes with flakes: every rung from the side, and from where on more of it is milk.
#pragma once

#include "fadewright/report/ladder.h"

namespace fadewright::report {

[[nodiscard]] bool has_flakes(const Ladder& ladder);
[[nodiscard]] std::vector<std::string> describe_chroma_peaks(
    const Ladder& ladder);  // none if more_each is false
[[nodiscard]] std::string flake_rungs_text(const Ladder& ladder);
void add_flakes_json(nlohmann::ordered_json& json, const Rung& rung);

// Rows are rungs; columns are grounds, each at 15, 45 and 110 degrees.
[[nodiscard]] Picture flake_ladder_sheet(const Ladder& ladder);

}  // namespace fadewright::report
