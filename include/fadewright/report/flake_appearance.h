// Appearance of a film with flakes: their number, evenness, and colour at the viewing angles.
#pragma once

#include "fadewright/film/multi_angle.h"
#include "fadewright/film/sparkle.h"
#include "fadewright/plan/flake_content.h"
#include "fadewright/report/canvas.h"
#include "fadewright/text/display_units.h"

#include <array>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::report {

// The viewing angles shown where there is no room for all: near-specular, face, flop (aspecular).
inline constexpr std::array kShownAngles{Degrees{15}, Degrees{45}, Degrees{110}};

// The viewing angles at which the chroma peak is searched (film/drawdown.h).
inline constexpr std::array kChromaPeakAngles{Degrees{15}, Degrees{45}};

// Shown wherever dry flake powder is dosed.
inline constexpr std::array<std::string_view, 2> kFlakePowderNotes{
    "Dry flake powder is combustible dust: no flames, no sparks",
    "No bare aluminium flake with water-based reducer in a closed can: it can make gas and burst"};
[[nodiscard]] std::string flake_powder_note();  // both, as sentences

struct FlakeAppearance {
    double per_cm2 = 0;
    double layers = 0;     // flakes on a line straight through the film, on average
    double gap_share = 0;  // of the area, without any
    // Of the kind with the best coverage; 1 where mottle begins to show (film/sparkle.h).
    double mottle_index = 0;
    film::MultiAngleColour over_black, over_grey, over_white, over_ground;
};

[[nodiscard]] FlakeAppearance flake_appearance(const paint::MixedPaint& mix, Micrometres film,
                                               const colour::Reflectance& ground,
                                               const film::Colorimeter& colorimeter);

// "even", "barely even", "patchy", "single flakes"
[[nodiscard]] std::string evenness_label(const FlakeAppearance& appearance);

// "21.7 g flake per litre ready to spray (14.5 level teaspoons of 5 mL; bulk density 0.3 g/mL)"
[[nodiscard]] std::string describe_flake_content(const plan::FlakeContent& content, DisplayUnits units = {});

// "flakes settle: stir every 35 min"; of the paint ready to spray. Empty for a mix without flakes.
[[nodiscard]] std::string describe_stirring(const paint::MixedPaint& mix, double viscosity_mPa_s);

// The step from which on it turns milky over black at that angle; steps and their names in rising order. If
// there is none: that, and the last step tried.
[[nodiscard]] std::string describe_chroma_peak(Degrees aspecular,
                                               std::span<const film::MultiAngleColour> over_black,
                                               std::span<const std::string> names);

[[nodiscard]] std::string flake_count_text(double number);  // three digits: "139000", "1.11 million"
[[nodiscard]] std::string angle_text(Degrees aspecular);    // "15°"
[[nodiscard]] double chroma_of(const colour::Lab& lab) noexcept;

// Factor by which colours must be darkened so that all of them fit the screen; at most 1.
[[nodiscard]] double exposure_to_fit(std::span<const colour::Lab> labs);
[[nodiscard]] colour::Lab apply_exposure(const colour::Lab& lab, double exposure);

void add_flake_appearance_json(nlohmann::ordered_json& json, const FlakeAppearance& appearance);
void add_flake_content_json(nlohmann::ordered_json& json, const plan::FlakeContent& content);

}  // namespace fadewright::report
