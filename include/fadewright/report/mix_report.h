// Report of a mix: figures, sentences, and a sheet of swatches.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/formulation/drawdown.h"
#include "fadewright/paint/mix.h"
#include "fadewright/report/phrases_flakes.h"
#include "fadewright/text/display_units.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::report {

struct TwoColours {
    std::string a, b;  // their names
    colour::Lab a_masstone, b_masstone;
    std::optional<formulation::VisualMidpoint> midpoint;
    formulation::MidColourComparison midpoints;
};

// Of a mix with flakes.
struct MixFlakes {
    plan::FlakeContent content;
    Seconds stir_interval;  // thinned to plan::kDefaultFlowCup
    formulation::FlakeDrawdown drawdown;
};

struct MixReport {
    std::string title;
    std::string ground_name;
    colour::Lab ground;  // bare
    std::string light;
    std::vector<paint::Ingredient> ingredients;  // in pouring order
    paint::MixedPaint mix;
    Micrometres coat;  // dry film of one coat
    formulation::DrawdownPrediction drawdown;
    std::optional<TwoColours> two_colours;  // when the mix is made of two
    std::optional<double> price_per_litre;  // of the mix ready to spray; none if a price is missing
    // Film below which the mix over black is visibly bluer than its masstone; none if it never is.
    std::optional<Micrometres> bluish_below;
    std::optional<MixFlakes> flakes;
    DisplayUnits units;
};

[[nodiscard]] std::string binder_label(const MixReport& mix_report);  // "182 g/L"
[[nodiscard]] std::vector<std::string> mix_sentences(const MixReport& mix_report);
[[nodiscard]] std::string mix_text(const MixReport& mix_report);
[[nodiscard]] std::string mix_json(const MixReport& mix_report);
[[nodiscard]] Picture mix_sheet(const MixReport& mix_report);

}  // namespace fadewright::report
