// Recipes that match a colour, as text and as JSON.
#pragma once

#include "fadewright/formulation/match.h"
#include "fadewright/text/display_units.h"

#include <string>
#include <vector>

namespace fadewright::report {

struct MatchReport {
    std::string request;  // what the target is, as "the mix 'plum'"
    formulation::MatchTarget target;
    formulation::MatchSettings settings;
    std::string film_condition;                // "at full hiding", "12 µm dry over grey-sealer"
    std::size_t candidates = 0;                // paints that were tried
    std::vector<std::string> notes;            // what was assumed, a sentence each
    std::vector<formulation::Recipe> recipes;  // best first, at least one
    DisplayUnits units;
};

[[nodiscard]] std::string match_text(const MatchReport& report);
[[nodiscard]] std::string match_json(const MatchReport& report);

// How a difference looks: "nobody will see it" to "a different colour".
[[nodiscard]] std::string difference_label(double delta_e);

// The direction from one colour to another, by its largest step: "lighter", "redder", "yellower", ...
[[nodiscard]] std::string direction_label(const colour::Lab& from, const colour::Lab& to);

// What no mix of the paints reaches: "as light", "as strong", "redder", ...
[[nodiscard]] std::string shortfall_label(const colour::Lab& target, const colour::Lab& nearest);

}  // namespace fadewright::report
