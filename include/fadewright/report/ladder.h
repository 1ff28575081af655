// A tint ladder: one thing varied, everything else fixed. Sheet of swatches, difference from step to step,
// table.
#pragma once

#include "fadewright/report/mix_report.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::report {

struct Rung {
    std::string label;  // "2 : 1 extended", "25 % white"
    paint::MixedPaint mix;
    Micrometres wet_film;  // film as sprayed, of all coats
    Micrometres film;      // dry, of all coats
    colour::Lab masstone, over_white, over_black, over_ground;
    double contrast_ratio = 0;
    std::optional<Micrometres> film_to_hide;
    std::optional<double> price_per_litre;
    double step_over_ground = 0;  // CIEDE2000 to the rung before, over the ground; 0 for the first
    double step_over_white = 0;
    std::optional<FlakeAppearance> flakes;  // in ladders of mixes with flakes, all rungs
    plan::FlakeContent content;
};

struct Ladder {
    std::string title;
    std::string varied;  // the varied quantity, as text
    std::string fixed;   // the fixed ones, as text
    std::string ground_name;
    colour::Lab ground;
    std::string light;
    std::vector<Rung> rungs;
    DisplayUnits units;
    bool varies_film_or_loading =
        false;  // rungs differ in coats, film or loading: the chroma peak is reported
};

// Calculates a rung's colours; wet film given, dry film follows from the mix's solids.
[[nodiscard]] Rung make_rung(std::string label, std::span<const paint::Part> parts, Micrometres wet,
                             const colour::Reflectance& ground, const film::Colorimeter& colorimeter);
void measure_steps(Ladder& ladder);
void add_flake_appearance(Rung& rung, const plan::FlakeContent& content, const colour::Reflectance& ground,
                          const film::Colorimeter& colorimeter);

[[nodiscard]] std::string ladder_text(const Ladder& ladder);
[[nodiscard]] std::string ladder_json(const Ladder& ladder);
[[nodiscard]] Picture ladder_sheet(const Ladder& ladder);

}  // namespace fadewright::report
