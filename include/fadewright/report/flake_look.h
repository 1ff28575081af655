// What is told of a film with flakes: how many lie in it, whether it is even, and how it looks from the side.
#pragma once

#include "fadewright/film/angled.h"
#include "fadewright/film/sparkle.h"
#include "fadewright/plan/flake_content.h"
#include "fadewright/report/canvas.h"
#include "fadewright/text/shown_units.h"

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
inline constexpr std::array kMilkAngles{Degrees{15}, Degrees{45}};

struct FlakeLook {
    double per_cm2 = 0;
    double crossings = 0;      // flakes that a straight line through the film meets
    double bare_share = 0;     // of the area, without any
    double patchy_figure = 0;  // of the kind that fills best; 1 where it begins to show (film/sparkle.h)
    film::AngledLook over_black, over_grey, over_white, over_ground;
};

[[nodiscard]] FlakeLook flake_look(const paint::MixedPaint& mix, Micrometres film,
                                   const colour::Reflectance& ground, const film::Looker& looker);

// "even", "just even", "patchy", "single flakes"
[[nodiscard]] std::string patchiness_words(const FlakeLook& look);

// "21.7 g of flakes in a litre as sprayed: 14.5 level teaspoons at 0.3 g/mL"
[[nodiscard]] std::string content_words(const plan::FlakeContent& content, ShownUnits units = {});

// "the flakes sink: stir again every 35 min"; of the liquid as sprayed. Empty for a mix without flakes.
[[nodiscard]] std::string stir_words(const paint::MixedPaint& mix, double viscosity_mPa_s);

// From which step on it gains milk, not colour, over black at that angle; steps and their names in rising
// order. None found: that, and how far was looked.
[[nodiscard]] std::string milk_sentence(Degrees aspecular, std::span<const film::AngledLook> over_black,
                                        std::span<const std::string> names);

[[nodiscard]] std::string number_of_flakes(double number);  // three digits: "139000"
[[nodiscard]] std::string angle_text(Degrees aspecular);    // "15 deg"
[[nodiscard]] double chroma_of(const colour::Lab& lab) noexcept;

// How much darker colours have to be shown so that all of them fit a screen; at most 1.
[[nodiscard]] double exposure_of(std::span<const colour::Lab> labs);
[[nodiscard]] colour::Lab exposed(const colour::Lab& lab, double exposure);

void put_look(nlohmann::ordered_json& json, const FlakeLook& look);
void put_content(nlohmann::ordered_json& json, const plan::FlakeContent& content);

}  // namespace fadewright::report
