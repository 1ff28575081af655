#include "match_fit.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/film/layer.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include <algorithm>
#include <cmath>
#include <nlopt.hpp>

namespace fadewright::formulation {
namespace {

// The smallest share of a paint in a search, as a logarithm.
const double kMinLogShare = std::log(1e-6);

// Negligible differences: far below the printed digits.
constexpr double kNegligibleDifference = 1e-7;

// No allocation within the search.
constexpr int kMaxPaints = static_cast<int>(kMaxPaintsInMix);
using PaintVector = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, kMaxPaints, 1>;
using PaintMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, kMaxPaints, kMaxPaints>;
using PaintJacobian = Eigen::Matrix<double, 3, Eigen::Dynamic, 0, 3, kMaxPaints>;

// CIEDE2000 squared is nearly a quadratic form of a small difference from the target: the form from its
// values, then a root of it.
Eigen::Matrix3d metric_at(const colour::Lab& target) {
    constexpr double h = 0.05;  // small in CIEDE2000, large against rounding
    const auto square = [&](const Eigen::Vector3d& offset) {
        const colour::Lab lab{target.L + offset[0], target.a + offset[1], target.b + offset[2]};
        const double d = colour::delta_e_2000(target, lab);
        return d * d / (h * h);
    };
    const Eigen::Matrix3d offsets = h * Eigen::Matrix3d::Identity();
    Eigen::Matrix3d form;  // only its lower triangle
    for (Eigen::Index i = 0; i < 3; ++i) {
        form(i, i) = square(offsets.col(i));
        for (Eigen::Index j = 0; j < i; ++j)
            form(i, j) =
                (square(offsets.col(i) + offsets.col(j)) - square(offsets.col(i) - offsets.col(j))) / 4;
    }
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> axes(form);
    return axes.eigenvalues().cwiseMax(1e-6).cwiseSqrt().asDiagonal() * axes.eigenvectors().transpose();
}

// Derivative of the Lab function (colour/lab.h) at t.
double lab_slope(double t) noexcept {
    constexpr double kStraight = 6.0 / 29;
    if (t <= kStraight * kStraight * kStraight) return 1 / (3 * kStraight * kStraight);
    const double root = std::cbrt(t);
    return 1 / (3 * root * root);
}

// X, Y, Z of a value per band.
template <class Bands>
Eigen::Vector3d tristimulus(const colour::TristimulusWeights& weights, Bands bands) noexcept {
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (std::size_t band = 0; band < colour::kBandCount; ++band)
        sum += bands(band) * Eigen::Vector3d::Map(weights.w[band].data());
    return sum;
}

void normalise(Fit& fit) noexcept {
    const double top = *std::max_element(fit.log_weight.begin(),
                                         fit.log_weight.begin() + static_cast<std::ptrdiff_t>(fit.count));
    for (std::size_t i = 0; i < fit.count; ++i)
        fit.log_weight[i] = std::max(fit.log_weight[i] - top, kMinLogShare);
}

}  // namespace

// Reflectance of a mix in each band, and its derivatives with respect to K and S.
struct Fitter::ReflectanceResponse {
    colour::Reflectance measured;
    std::array<double, colour::kBandCount> by_K{}, by_S{};
};

// Normal equations of one step.
struct Fitter::NormalEquations {
    PaintMatrix gram;
    PaintVector gradient;
};

ViewCondition::ViewCondition(const film::Colorimeter& view_colorimeter, const colour::Lab& at,
                             double view_weight)
    : colorimeter(view_colorimeter), target(at), weight(view_weight), metric(metric_at(at)) {}

MixShares Fit::shares() const noexcept {
    MixShares mix_shares;
    mix_shares.count = count;
    mix_shares.paint_index = paint_index;
    double sum = 0;
    for (std::size_t i = 0; i < count; ++i) sum += mix_shares.share[i] = std::exp(log_weight[i]);
    for (std::size_t i = 0; i < count; ++i) mix_shares.share[i] /= sum;
    return mix_shares;
}

Fitter::Fitter(const MixEvaluator& evaluator, std::vector<ViewCondition> views, film::Specular specular,
               std::optional<MatchFilm> film_over_ground)
    : evaluator_(evaluator),
      views_(std::move(views)),
      film_over_ground_(film_over_ground),
      surface_(views_.front().colorimeter.surface()),
      specular_(specular) {}

Fitter::ReflectanceResponse Fitter::reflectance_response(const MixOptics& mix) const {
    ReflectanceResponse response;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        const double K = mix.K[band];
        const double S = mix.S[band];
        double R, by_K, by_S;
        if (film_over_ground_) {
            const double X = film_over_ground_->film.value;
            const double R_g = film_over_ground_->ground[band];
            const double hK = 1e-6 * K + 1e-9;
            const double hS = 1e-6 * S + 1e-9;
            R = film::reflectance_over(film::layer(K, S, X), R_g);
            by_K = (film::reflectance_over(film::layer(K + hK, S, X), R_g) - R) / hK;
            by_S = (film::reflectance_over(film::layer(K, S + hS, X), R_g) - R) / hS;
        } else {
            R = film::r_infinity(K, S);
            const double root = std::sqrt(K * (K + 2 * S)) + 1e-12;  // infinite derivative at a perfect white
            by_K = -R / root;
            by_S = K / (root * (K + S + root));
        }
        response.measured[band] = film::external_reflectance(surface_, R, specular_);
        const double remaining = 1 - surface_.k2 * R;
        const double surface = (1 - surface_.k1) * (1 - surface_.k2) / (remaining * remaining);
        response.by_K[band] = surface * by_K;
        response.by_S[band] = surface * by_S;
    }
    return response;
}

// Sum of the squares of the weighted differences, and the normal equations of a step from here.
double Fitter::sum_of_squares(const Fit& fit, NormalEquations& equations) const {
    const MixShares mix_shares = fit.shares();
    const MixOptics mix = evaluator_.optics(mix_shares);
    const ReflectanceResponse response = this->reflectance_response(mix);
    const auto paints = static_cast<Eigen::Index>(mix_shares.count);
    equations = {PaintMatrix::Zero(paints, paints), PaintVector::Zero(paints)};
    double sum = 0;
    for (const ViewCondition& view : views_) {
        const colour::TristimulusWeights& weights = view.colorimeter.weights();
        const colour::XYZ xyz = colour::to_xyz(response.measured, weights);
        const colour::Lab lab = colour::to_lab(xyz, weights.white);
        const Eigen::Matrix3d metric = view.weight * view.metric;
        const Eigen::Vector3d r =
            metric * Eigen::Vector3d(lab.L - view.target.L, lab.a - view.target.a, lab.b - view.target.b);
        sum += r.squaredNorm();
        const Eigen::Vector3d curve(lab_slope(xyz.X / weights.white.X) / weights.white.X,
                                    lab_slope(xyz.Y / weights.white.Y) / weights.white.Y,
                                    lab_slope(xyz.Z / weights.white.Z) / weights.white.Z);
        const Eigen::Vector3d crowding =
            tristimulus(weights, [&](std::size_t b) { return response.by_S[b] * mix.dS_dp[b]; });
        PaintJacobian J(3, paints);
        for (std::size_t i = 0; i < mix_shares.count; ++i) {
            const paint::Paint& paint = evaluator_.paint(mix_shares.paint_index[i]);
            const Eigen::Vector3d xyz_slope = tristimulus(weights, [&](std::size_t b) {
                return response.by_K[b] * (paint.K[b] - mix.K[b]) +
                       response.by_S[b] * (mix.scattering_gain[i] * paint.S[b] - mix.S[b]);
            });
            const double crowding_change = evaluator_.crowding_pigment(mix_shares.paint_index[i]) - mix.p;
            const Eigen::Vector3d t =
                mix_shares.share[i] * curve.cwiseProduct(xyz_slope + crowding_change * crowding);
            J.col(static_cast<Eigen::Index>(i)) =
                metric * Eigen::Vector3d(116 * t[1], 500 * (t[0] - t[1]), 200 * (t[1] - t[2]));
        }
        equations.gradient -= J.transpose() * r;
        equations.gram += J.transpose() * J;
    }
    return sum;
}

// Damping: shorter steps while they fail, longer ones while they succeed. Source: [levenberg1944].
Fit Fitter::refine(Fit fit, int steps) const {
    constexpr double kLongest = 2.5;  // of one step, in logarithms: a factor of twelve
    constexpr double kEnough = 1e-4;  // relative gain at which a fit has converged
    normalise(fit);
    double damping = 1e-2;
    NormalEquations equations;
    double square = sum_of_squares(fit, equations);
    for (int step = 0; step < steps && square > kNegligibleDifference; ++step) {
        PaintMatrix A = equations.gram;
        A.diagonal().array() += damping * A.diagonal().array() + 1e-3 * damping * A.trace() + 1e-12;
        const PaintVector step_vector = A.llt().solve(equations.gradient);
        Fit next = fit;
        for (std::size_t i = 0; i < fit.count; ++i)
            next.log_weight[i] += std::clamp(step_vector[static_cast<Eigen::Index>(i)], -kLongest, kLongest);
        normalise(next);
        NormalEquations next_equations;
        const double next_square = sum_of_squares(next, next_equations);
        if (next_square < square) {
            const bool finished = square - next_square < kEnough * square;
            fit = next;
            square = next_square;
            equations = next_equations;
            damping = std::max(damping / 5, 1e-9);
            if (finished) break;
        } else {
            damping *= 8;
            if (damping > 1e6) break;
        }
    }
    fit.error = std::sqrt(square);
    return fit;
}

double Fitter::error(const MixShares& mix_shares) const {
    const MixOptics mix = evaluator_.optics(mix_shares);
    colour::Reflectance inside;
    for (std::size_t band = 0; band < colour::kBandCount; ++band)
        inside[band] =
            film_over_ground_
                ? film::reflectance_over(film::layer(mix.K[band], mix.S[band], film_over_ground_->film.value),
                                         film_over_ground_->ground[band])
                : film::r_infinity(mix.K[band], mix.S[band]);
    const colour::Reflectance measured = film::through_surface(inside, surface_, specular_);
    double sum = 0;
    for (const ViewCondition& view : views_) {
        const colour::TristimulusWeights& weights = view.colorimeter.weights();
        const colour::Lab lab = colour::to_lab(colour::to_xyz(measured, weights), weights.white);
        const double d = view.weight * colour::delta_e_2000(view.target, lab);
        sum += d * d;
    }
    return std::sqrt(sum);
}

namespace {

// Objective for NLopt: one variable for every paint but the fixed one.
struct PolishObjective {
    const Fitter& fitter;
    Fit best;
    std::size_t fixed_index;

    static double evaluate(const std::vector<double>& at, std::vector<double>& /*slope*/, void* self) {
        auto& polishing = *static_cast<PolishObjective*>(self);
        Fit fit = polishing.best;
        std::size_t next = 0;
        for (std::size_t i = 0; i < fit.count; ++i)
            if (i != polishing.fixed_index) fit.log_weight[i] = at[next++];
        fit.error = polishing.fitter.error(fit.shares());
        if (fit.error < polishing.best.error) polishing.best = fit;
        return fit.error;
    }
};

}  // namespace

Fit Fitter::polish(const Fit& start) const {
    Fit best = start;
    best.error = error(best.shares());
    if (best.count < 2 || best.error < kNegligibleDifference) return best;
    // The paint of the largest share is fixed at weight 1; the others vary relative to it.
    const auto& logs = best.log_weight;
    const auto fixed_index = static_cast<std::size_t>(
        std::max_element(logs.begin(), logs.begin() + static_cast<std::ptrdiff_t>(best.count)) -
        logs.begin());
    std::vector<double> x;
    for (std::size_t i = 0; i < best.count; ++i)
        if (i != fixed_index) x.push_back(best.log_weight[i]);
    PolishObjective polishing{*this, best, fixed_index};
    nlopt::opt search(nlopt::LN_SBPLX, static_cast<unsigned>(x.size()));
    search.set_min_objective(&PolishObjective::evaluate, &polishing);
    search.set_initial_step(0.05);
    search.set_xtol_rel(1e-6);
    search.set_ftol_abs(1e-5);
    search.set_stopval(1e-5);
    search.set_maxeval(400);
    double min_error = 0;
    try {
        (void)search.optimize(x, min_error);
    } catch (const nlopt::roundoff_limited&) {
        // use the best trial so far
    }
    normalise(polishing.best);
    return polishing.best;
}

}  // namespace fadewright::formulation
