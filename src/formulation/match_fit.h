// Fitting of a recipe: colour difference of a trial from the target, and the best shares of given
// paints.
//
// Shares are stored as logarithms (`log_weight`, with any common offset), because a strong blue acts in
// thousandths as white does in halves, and because no share can then become negative.
#pragma once

#include "fadewright/film/colorimeter.h"
#include "fadewright/formulation/match.h"
#include "fadewright/formulation/mix_evaluator.h"

#include <Eigen/Core>

#include <array>
#include <optional>
#include <vector>

namespace fadewright::formulation {

// One light for the comparison. `metric` maps a small difference in Lab at the target to a vector whose
// length is its CIEDE2000.
struct ViewCondition {
    film::Colorimeter colorimeter;
    colour::Lab target;
    double weight = 1;
    Eigen::Matrix3d metric;

    ViewCondition(const film::Colorimeter& view_colorimeter, const colour::Lab& at, double view_weight);
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
    Fitter(const MixEvaluator& evaluator, std::vector<ViewCondition> views, film::Specular specular,
           std::optional<MatchFilm> film_over_ground);

    [[nodiscard]] const MixEvaluator& evaluator() const noexcept { return evaluator_; }

    // The same paints in better shares, by at most this many steps of damped least squares in the metrics.
    [[nodiscard]] Fit refine(Fit fit, int steps) const;

    // The same by CIEDE2000 itself; never worse than the start. Sets `error` by CIEDE2000.
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
    film::SaundersonCorrection surface_;
    film::Specular specular_;
};

}  // namespace fadewright::formulation
