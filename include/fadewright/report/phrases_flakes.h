// Films with flakes in words and JSON: their number, evenness, stirring, and colour at the viewing angles.
//
// Checks     tests/report/phrases_test.cpp
#pragma once

#include "fadewright/formulation/flake_appearance.h"
#include "fadewright/plan/flake_content.h"
#include "fadewright/text/display_units.h"

#include <array>
#include <nlohmann/json_fwd.hpp>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::report {

// The viewing angles shown where there is no room for all: near-specular, face, flop (aspecular).
inline constexpr std::array kShownAngles{Degrees{15}, Degrees{45}, Degrees{110}};

// The viewing angles at which the chroma peak is searched (formulation/drawdown.h).
inline constexpr std::array kChromaPeakAngles{Degrees{15}, Degrees{45}};

// Shown wherever dry flake powder is dosed.
inline constexpr std::array<std::string_view, 2> kFlakePowderNotes{
    "Dry flake powder is combustible dust: no flames, no sparks",
    "No bare aluminium flake with water-based reducer in a closed can: it can make gas and burst"};
[[nodiscard]] std::string flake_powder_note();  // both, as sentences

using formulation::FlakeAppearance;

// "even", "barely even", "patchy", "single flakes"
[[nodiscard]] std::string_view evenness_label(const FlakeAppearance& appearance);

// "21.7 g flake per litre ready to spray (14.5 level teaspoons of 5 mL; bulk density 0.3 g/mL)"
[[nodiscard]] std::string describe_flake_content(const plan::FlakeContent& content, DisplayUnits units = {});

// "flakes settle: stir every 35 min"; interval of film/settling.h, of the paint ready to spray.
[[nodiscard]] std::string describe_stirring(Seconds interval);

// The step from which on it turns milky over black at that angle; steps and their names in rising order. If
// there is none: that, and the last step tried.
[[nodiscard]] std::string describe_chroma_peak(Degrees aspecular,
                                               std::span<const film::MultiAngleColour> over_black,
                                               std::span<const std::string> names);

[[nodiscard]] std::string flake_count_text(double number);  // three digits: "139000", "1.11 million"
[[nodiscard]] std::string angle_text(Degrees aspecular);    // "15°"
[[nodiscard]] double chroma_of(const colour::Lab& lab) noexcept;

void add_flake_appearance_json(nlohmann::ordered_json& json, const FlakeAppearance& appearance);
void add_flake_content_json(nlohmann::ordered_json& json, const plan::FlakeContent& content);

}  // namespace fadewright::report
