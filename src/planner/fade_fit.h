// The fit of all passes of a fade to its target colours: the cost of amounts, and the minimum near the
// current ones.
//
// The cost is the sum of squares, over all samples, of
//
//     errors of L*, a*, b*                                              dE
//     banding over the visible threshold                               kBandingWeight dE each
//     errors of film, as a share of the coat's full film               kFilmWeight dE for the full film
//
// and of differences between neighbours, with kUnevennessWeight of the weight of their film. Gauss-Newton:
// around any amounts the cost is approximated by a quadratic (bounded_quadratic.h).
#pragma once

#include "bounded_quadratic.h"
#include "fade_banding.h"
#include "fade_film.h"
#include "fadewright/film/stack_colour.h"

#include <optional>
#include <span>
#include <vector>

namespace fadewright::planner {

// One graded coat: the film of each of its lines, sprayed at 1 mm/s.
struct CoatLines {
    std::vector<std::vector<double>> films_um;  // dry, of each line at every sample
    double full_um = 0;                         // of the coat at full strength
    PassSpeedLimits limits;
};

class FadeFit {
public:
    // One line of one coat that reaches the panel.
    struct Line {
        std::size_t coat = 0, index_in_coat = 0;    // index among the coat's lines
        Eigen::Index first_sample = 0;              // first sample that it reaches
        Eigen::Map<const Eigen::VectorXd> film_um;  // from there on
    };

    FadeFit(std::span<const CoatLines> coats, const film::StackColour& colours,
            const std::vector<TargetSample>& targets, const SampleLine& sample_line);

    [[nodiscard]] const std::vector<Line>& lines() const noexcept { return lines_; }

    [[nodiscard]] double cost(const std::vector<double>& amounts) const;
    [[nodiscard]] BoundedQuadratic quadratic_model(const std::vector<double>& amounts) const;
    // Of the target films alone.
    [[nodiscard]] BoundedQuadratic film_quadratic() const;

private:
    using ErrorRows = Eigen::MatrixX4d;               // of L*, a*, b* and banding, a row per sample
    using LabSlopes = std::vector<Eigen::MatrixX3d>;  // of L*, a*, b* with each coat's film, likewise

    void collect_lines(std::size_t coat);
    void build_film_quadratic();
    [[nodiscard]] double film_weight(std::size_t coat) const { return kFilmWeight / coats_[coat].full_um; }
    [[nodiscard]] ErrorRows colour_errors(const std::vector<double>& amounts, LabSlopes* slopes) const;

    static constexpr double kFilmWeight = 1.5;

    std::span<const CoatLines> coats_;
    const film::StackColour& colours_;
    const std::vector<TargetSample>& targets_;
    std::vector<Line> lines_;
    std::optional<BandingFilter> banding_;
    BoundedQuadratic film_quadratic_;  // the constant part of the quadratic: films and neighbours
    double film_cost_;                 // of spraying nothing
};

}  // namespace fadewright::planner
