// Report of a mix: figures, sentences, and a sheet of swatches.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/film/drawdown.h"
#include "fadewright/paint/mix.h"
#include "fadewright/report/flake_appearance.h"
#include "fadewright/text/display_units.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::report {

struct Ingredient {
    std::string id, title;
    Share of_mix_volume, of_mix_weight;
};

struct TwoColours {
    std::string a, b;  // their names
    colour::Lab a_masstone, b_masstone;
    std::optional<film::VisualMidpoint> midpoint;
    film::MidColourComparison midpoints;
};

// Of a mix with flakes.
struct MixFlakes {
    plan::FlakeContent content;
    std::string stirring;                                    // how often it must be stirred
    std::vector<FlakeAppearance> coats;                      // as many as are shown
    std::vector<film::MultiAngleColour> over_black_by_coat;  // for the chroma peak
};
inline constexpr int kMaxChromaPeakCoats = 24;

struct MixReport {
    std::string title;
    std::string ground_name;
    colour::Lab ground;  // bare
    std::string light;
    std::vector<Ingredient> ingredients;  // in pouring order
    paint::MixedPaint mix;
    Micrometres coat;  // dry film of one coat
    film::DrawdownPrediction drawdown;
    std::optional<TwoColours> two_colours;  // when the mix is made of two
    std::optional<double> price_per_litre;  // of the mix ready to spray; none if a price is missing
    // Film below which the mix over black is visibly bluer than its masstone; none if it never is.
    std::optional<Micrometres> bluish_below;
    std::optional<MixFlakes> flakes;
    DisplayUnits units;
};

[[nodiscard]] MixFlakes mix_flakes(const MixReport& mix_report, const plan::FlakeContent& content,
                                   const colour::Reflectance& ground, const film::Colorimeter& colorimeter);

[[nodiscard]] std::vector<Ingredient> ingredients_of(std::span<const paint::Part> parts);
[[nodiscard]] std::optional<double> price_of(std::span<const paint::Part> parts);
[[nodiscard]] std::optional<Micrometres> bluish_below(const paint::MixedPaint& mix,
                                                      const film::Colorimeter& colorimeter);

[[nodiscard]] std::string binder_label(const MixReport& mix_report);  // "182 g/L"
[[nodiscard]] std::vector<std::string> mix_sentences(const MixReport& mix_report);
[[nodiscard]] std::string mix_text(const MixReport& mix_report);
[[nodiscard]] std::string mix_json(const MixReport& mix_report);
[[nodiscard]] Picture mix_sheet(const MixReport& mix_report);

}  // namespace fadewright::report
