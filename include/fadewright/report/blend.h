// What is told of a mix: figures, sentences, and a sheet of swatches.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/film/outlook.h"
#include "fadewright/paint/mix.h"
#include "fadewright/report/flake_look.h"
#include "fadewright/text/shown_units.h"

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
    std::optional<film::Halfway> half;
    film::MiddleLooks middles;
};

// Of a mix with flakes.
struct FlakeBlend {
    plan::FlakeContent content;
    std::string stir;                          // how soon it must be stirred again
    std::vector<FlakeLook> coats;              // as many as are shown
    std::vector<film::AngledLook> over_black;  // coat by coat, as far as milk is looked for
};
inline constexpr int kMilkCoats = 24;

struct Blend {
    std::string title;
    std::string ground_name;
    colour::Lab ground;  // bare
    std::string light;
    std::vector<Ingredient> ingredients;  // in pouring order
    paint::MixedPaint mix;
    Micrometres coat;  // dry film of one coat
    film::Outlook outlook;
    std::optional<TwoColours> two;          // when the mix is made of two
    std::optional<double> price_per_litre;  // of the mix as sprayed; none if a price is missing
    // Film below which the mix over black is visibly bluer than when it is thick; none if it never is.
    std::optional<Micrometres> bluish_below;
    std::optional<FlakeBlend> flakes;
    ShownUnits units;
};

[[nodiscard]] FlakeBlend flake_blend(const Blend& blend, const plan::FlakeContent& content,
                                     const colour::Reflectance& ground, const film::Looker& looker);

[[nodiscard]] std::vector<Ingredient> ingredients_of(std::span<const paint::Part> parts);
[[nodiscard]] std::optional<double> price_of(std::span<const paint::Part> parts);
[[nodiscard]] std::optional<Micrometres> bluish_below(const paint::MixedPaint& mix,
                                                      const film::Looker& looker);

[[nodiscard]] std::string binder_words(const Blend& blend);  // "182 g a litre"
[[nodiscard]] std::vector<std::string> blend_sentences(const Blend& blend);
[[nodiscard]] std::string blend_text(const Blend& blend);
[[nodiscard]] std::string blend_json(const Blend& blend);
[[nodiscard]] Picture blend_sheet(const Blend& blend);

}  // namespace fadewright::report
