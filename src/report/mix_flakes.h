// The part of a mix's text and sheet that only mixes with flakes have.
#pragma once

#include "fadewright/report/mix_report.h"

namespace fadewright::report {

void add_flake_sentences(const MixFlakes& flakes, DisplayUnits units, std::vector<std::string>& out);
[[nodiscard]] std::string mix_flakes_text(const MixReport& mix_report);
void add_flakes_json(nlohmann::ordered_json& json, const MixReport& mix_report);

// Draws from y down and returns where it ends, less than kFlakesHeight lower.
inline constexpr int kFlakesHeight = 570;
[[nodiscard]] double draw_flakes(Canvas& canvas, const MixReport& mix_report, double y);

}  // namespace fadewright::report
