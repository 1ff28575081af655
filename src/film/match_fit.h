// The inside of a search for a recipe: how far a trial is from the target, and the best shares of given
// paints.
//
// A share is kept as its logarithm (`log_weight`, with any common offset), because a strong blue does in
// thousandths what white does in halves, and because no share can then turn negative.
#pragma once

#include "fadewright/film/colorimeter.h"
#include "fadewright/film/match.h"
#include "fadewright/film/mix_evaluator.h"

#include <array>
#include <optional>
#include <vector>

namespace fadewright::film {

// One light the target is compared in. `ruler` is upper triangular and turns a small difference in Lab at the
// target into one whose length is its CIEDE2000.
struct ViewCondition {
    Colorimeter colorimeter;
    colour::Lab target;
    double weight = 1;
    std::array<std::array<double, 3>, 3> metric{};

    ViewCondition(const Colorimeter& by_colorimeter, const colour::Lab& at, double view_weight);
};

struct Fit {
    std::size_t count = 0;
    std::array<std::size_t, kMaxPaintsInMix> paint_index{};
    std::array<double, kMaxPaintsInMix> log_weight{};
    double error = 0;  // all lights, by their weights

    [[nodiscard]] MixShares shares() const noexcept;
};

class Fitter {
public:
    Fitter(const MixEvaluator& evaluator, std::vector<ViewCondition> views, Specular specular,
           std::optional<MatchFilm> film_over_ground);

    [[nodiscard]] const MixEvaluator& evaluator() const noexcept { return evaluator_; }

    // The same paints in better shares, by at most so many steps of damped least squares on the rulers.
    [[nodiscard]] Fit refine(Fit fit, int steps) const;

    // The same by CIEDE2000 itself; never worse than the start. Sets `miss` by CIEDE2000.
    [[nodiscard]] Fit polish(const Fit& start) const;

    // CIEDE2000 from the target, all lights by their weights.
    [[nodiscard]] double error(const MixShares& mix_shares) const;

private:
    struct ReflectanceResponse;
    struct NormalEquations;
    [[nodiscard]] ReflectanceResponse reflectance_response(const MixOptics& mix) const;
    [[nodiscard]] double sum_of_squares(const Fit& fit, NormalEquations& equations) const;

    const MixEvaluator& evaluator_;
    std::vector<ViewCondition> views_;
    std::optional<MatchFilm> film_over_ground_;
    SaundersonCorrection surface_;
    Specular specular_;
};

}  // namespace fadewright::film
