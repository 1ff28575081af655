// The part of a blend's words and sheet that only mixes with flakes have.
#pragma once

#include "fadewright/report/blend.h"

namespace fadewright::report {

void add_flake_sentences(const FlakeBlend& flakes, ShownUnits units, std::vector<std::string>& out);
[[nodiscard]] std::string flakes_text(const Blend& blend);
void put_flakes(nlohmann::ordered_json& json, const Blend& blend);

// Draws from y down and returns where it ends, less than kFlakesHeight lower.
inline constexpr int kFlakesHeight = 570;
[[nodiscard]] double draw_flakes(Canvas& canvas, const Blend& blend, double y);

}  // namespace fadewright::report
