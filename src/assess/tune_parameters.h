// The settings of a fade that a search may vary, the fades it may start from, and the changes it makes.
#pragma once

#include "fadewright/assess/tune_objective.h"

#include <vector>

namespace fadewright::assess {

// A fade and the distance of its gun.
struct FadeSetting {
    plan::Fade fade;
    std::optional<Millimetres> distance;  // default: the gun's

    [[nodiscard]] plan::Plan apply_to(const plan::Plan& plan, std::size_t coat) const;
};

// One setting: its range, its rounding step, and its starting value.
struct TuneParameter {
    Vary vary;
    double min, max, step, start;

    [[nodiscard]] double round_value(double value) const noexcept;
};

// The settings of the fade that `options` allow to vary. default_mm: the distance of the gun.
[[nodiscard]] std::vector<TuneParameter> tune_parameters(const FadeSetting& origin, double default_mm,
                                                         const TuneOptions& options);
// values: of the parameters, in their order.
[[nodiscard]] FadeSetting apply_values(FadeSetting origin, const std::vector<TuneParameter>& parameters,
                                       const std::vector<double>& values);

// The fades to start from, one for each combination of discrete settings: method, order, number of mid
// colours, passes solved separately or jointly. The plan's own first.
[[nodiscard]] std::vector<plan::Fade> starting_points(const plan::Fade& own, const TuneOptions& options);

// A changed setting, and the tuned fade with it reset.
struct Ablation {
    Vary vary;
    FadeSetting setting;
};
[[nodiscard]] std::vector<Ablation> ablations(const FadeSetting& before, const FadeSetting& after);

}  // namespace fadewright::assess
