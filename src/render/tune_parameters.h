// The fade's measures that a search may turn, the fades it may start from, and what differs in the end.
#pragma once

#include "fadewright/render/tune_objective.h"

#include <string>
#include <vector>

namespace fadewright::render {

// A fade and, with it, how far off its gun is held.
struct FadeSetting {
    plan::Fade fade;
    std::optional<Millimetres> distance;  // the gun's own, if absent

    [[nodiscard]] plan::Plan apply_to(const plan::Plan& plan, std::size_t coat) const;
};

// From where all is one mix to where all is the other.
[[nodiscard]] double ramp_width_mm(const plan::Fade& fade);

// One measure: how far it goes, how it is rounded, and where the search begins.
struct TuneParameter {
    Vary vary;
    double min, max, step, start;

    [[nodiscard]] double round_value(double value) const noexcept;
};

// The knobs that the fade has, with the wish's leave. `usual_mm`: the distance that is the gun's own.
[[nodiscard]] std::vector<TuneParameter> tune_parameters(const FadeSetting& origin, double default_mm,
                                                         const TuneOptions& options);
// Values are of the knobs, in their order.
[[nodiscard]] FadeSetting apply_values(FadeSetting origin, const std::vector<TuneParameter>& parameters,
                                       const std::vector<double>& values);

// The fades to search from, each with what may not be turned but only chosen: method, order, number of middles, how
// passes are found. The plan's own first.
[[nodiscard]] std::vector<plan::Fade> starting_points(const plan::Fade& own, const TuneOptions& options);

// A measure that differs, and the setting with it put back.
struct Ablation {
    std::string label, before, after;
    FadeSetting setting;
};
[[nodiscard]] std::vector<Ablation> ablations(const FadeSetting& before, const FadeSetting& after,
                                              DisplayUnits units);

}  // namespace fadewright::render
