// What is told of a film with flakes: how many lie in it, whether it is even, and how it looks from the side.
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
#include <vector>

namespace fadewright::report {

// The angles that are shown where there is no room for all: near the shine, straight on, far behind.
inline constexpr std::array kShownAngles{Degrees{15}, Degrees{45}, Degrees{110}};

// Where it is looked for the coat from which colour turns to milk (film/milk.h).
inline constexpr std::array kChromaPeakAngles{Degrees{15}, Degrees{45}};

struct FlakeAppearance {
    double per_cm2 = 0;
    double layers = 0;        // flakes that a straight line through the film meets
    double gap_share = 0;     // of the area, without any
    double mottle_index = 0;  // of the kind that fills best; 1 where it begins to show (film/sparkle.h)
    film::MultiAngleColour over_black, over_grey, over_white, over_ground;
};

[[nodiscard]] FlakeAppearance flake_appearance(const paint::MixedPaint& mix, Micrometres film,
                                               const colour::Reflectance& ground,
                                               const film::Colorimeter& looker);

// "even", "just even", "patchy", "single flakes"
[[nodiscard]] std::string evenness_label(const FlakeAppearance& appearance);

// "21.7 g of flakes in a litre as sprayed: 14.5 level teaspoons at 0.3 g/mL"
[[nodiscard]] std::string describe_flake_content(const plan::FlakeContent& content, DisplayUnits units = {});

// "the flakes sink: stir again every 35 min"; of the liquid as sprayed. Empty for a mix without flakes.
[[nodiscard]] std::string describe_stirring(const paint::MixedPaint& mix, double viscosity_mPa_s);

// From which step on it gains milk, not colour, over black at that angle; steps and their names in rising
// order. None found: that, and how far was looked.
[[nodiscard]] std::string describe_chroma_peak(Degrees aspecular,
                                               std::span<const film::MultiAngleColour> over_black,
                                               std::span<const std::string> names);

[[nodiscard]] std::string flake_count_text(double number);  // three digits: "139000"
[[nodiscard]] std::string angle_text(Degrees aspecular);    // "15 deg"
[[nodiscard]] double chroma_of(const colour::Lab& lab) noexcept;

// How much darker colours have to be shown so that all of them fit a screen; at most 1.
[[nodiscard]] double exposure_to_fit(std::span<const colour::Lab> labs);
[[nodiscard]] colour::Lab apply_exposure(const colour::Lab& lab, double exposure);

void add_flake_appearance_json(nlohmann::ordered_json& json, const FlakeAppearance& appearance);
void add_flake_content_json(nlohmann::ordered_json& json, const plan::FlakeContent& content);

}  // namespace fadewright::report
