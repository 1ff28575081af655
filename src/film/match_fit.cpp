#include "match_fit.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/film/layer.h"

#include <algorithm>
#include <cmath>
#include <nlopt.hpp>

namespace fadewright::film {
namespace {

// The smallest share of a paint in a search, as a logarithm.
const double kMinLogShare = std::log(1e-6);

// Negligible differences: far below the printed digits.
constexpr double kNegligibleDifference = 1e-7;

using Vector3 = std::array<double, 3>;
using SquareMatrix = std::array<std::array<double, kMaxPaintsInMix>, kMaxPaintsInMix>;

// Solves A x = b for a symmetric positive definite A of the given size by Cholesky's method; overwrites A.
std::array<double, kMaxPaintsInMix> solve(SquareMatrix& A, std::array<double, kMaxPaintsInMix> b,
                                          std::size_t size) {
    for (std::size_t j = 0; j < size; ++j) {
        for (std::size_t k = 0; k < j; ++k) A[j][j] -= A[j][k] * A[j][k];
        A[j][j] = std::sqrt(std::max(A[j][j], 1e-300));
        for (std::size_t i = j + 1; i < size; ++i) {
            for (std::size_t k = 0; k < j; ++k) A[i][j] -= A[i][k] * A[j][k];
            A[i][j] /= A[j][j];
        }
    }
    for (std::size_t i = 0; i < size; ++i) {
        for (std::size_t k = 0; k < i; ++k) b[i] -= A[i][k] * b[k];
        b[i] /= A[i][i];
    }
    for (std::size_t i = size; i-- > 0;) {
        for (std::size_t k = i + 1; k < size; ++k) b[i] -= A[k][i] * b[k];
        b[i] /= A[i][i];
    }
    return b;
}

colour::Lab offset_lab(colour::Lab lab, std::size_t axis, double delta) {
    (axis == 0 ? lab.L : axis == 1 ? lab.a : lab.b) += delta;
    return lab;
}

// CIEDE2000 squared is nearly a quadratic form of a small difference from the target: the form from its
// values, then its triangular root.
std::array<std::array<double, 3>, 3> metric_at(const colour::Lab& target) {
    constexpr double h = 0.05;  // small in CIEDE2000, large against rounding
    const auto square = [&](const colour::Lab& lab) {
        const double d = colour::delta_e_2000(target, lab);
        return d * d / (h * h);
    };
    std::array<std::array<double, 3>, 3> quadratic_form{};
    for (std::size_t i = 0; i < 3; ++i) quadratic_form[i][i] = square(offset_lab(target, i, h));
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < i; ++j)
            quadratic_form[i][j] = (square(offset_lab(offset_lab(target, i, h), j, h)) -
                                    square(offset_lab(offset_lab(target, i, h), j, -h))) /
                                   4;
    std::array<std::array<double, 3>, 3> root{};  // form = root^T root, root upper triangular
    for (std::size_t j = 0; j < 3; ++j)
        for (std::size_t i = j; i < 3; ++i) {
            double remaining = quadratic_form[i][j];
            for (std::size_t k = 0; k < j; ++k) remaining -= root[k][i] * root[k][j];
            root[j][i] = i == j ? std::sqrt(std::max(remaining, 1e-6)) : remaining / root[j][j];
        }
    return root;
}

// Derivative of the Lab function (colour/lab.h) at t.
double lab_slope(double t) noexcept {
    constexpr double kStraight = 6.0 / 29;
    if (t <= kStraight * kStraight * kStraight) return 1 / (3 * kStraight * kStraight);
    const double root = std::cbrt(t);
    return 1 / (3 * root * root);
}

double dot(const Vector3& a, const Vector3& b) noexcept { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }

Vector3 apply_metric(const ViewCondition& view, const Vector3& difference) noexcept {
    Vector3 r{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = i; j < 3; ++j) r[i] += view.weight * view.metric[i][j] * difference[j];
    return r;
}

// X, Y, Z of a value per band.
template <class Bands>
Vector3 tristimulus(const colour::TristimulusWeights& weights, Bands bands) noexcept {
    Vector3 sum{};
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        const double value = bands(band);
        for (std::size_t axis = 0; axis < 3; ++axis) sum[axis] += weights.w[band][axis] * value;
    }
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
    SquareMatrix gram{};
    std::array<double, kMaxPaintsInMix> gradient{};
};

ViewCondition::ViewCondition(const Colorimeter& view_colorimeter, const colour::Lab& at, double view_weight)
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

Fitter::Fitter(const MixEvaluator& evaluator, std::vector<ViewCondition> views, Specular specular,
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
            R = reflectance_over(layer(K, S, X), R_g);
            by_K = (reflectance_over(layer(K + hK, S, X), R_g) - R) / hK;
            by_S = (reflectance_over(layer(K, S + hS, X), R_g) - R) / hS;
        } else {
            R = r_infinity(K, S);
            const double root = std::sqrt(K * (K + 2 * S)) + 1e-12;  // infinite derivative at a perfect white
            by_K = -R / root;
            by_S = K / (root * (K + S + root));
        }
        response.measured[band] = external_reflectance(surface_, R, specular_);
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
    equations = {};
    double sum = 0;
    for (const ViewCondition& view : views_) {
        const colour::TristimulusWeights& weights = view.colorimeter.weights();
        const colour::XYZ xyz = colour::to_xyz(response.measured, weights);
        const colour::Lab lab = colour::to_lab(xyz, weights.white);
        const Vector3 r =
            apply_metric(view, {lab.L - view.target.L, lab.a - view.target.a, lab.b - view.target.b});
        sum += r[0] * r[0] + r[1] * r[1] + r[2] * r[2];
        const Vector3 curve{lab_slope(xyz.X / weights.white.X) / weights.white.X,
                            lab_slope(xyz.Y / weights.white.Y) / weights.white.Y,
                            lab_slope(xyz.Z / weights.white.Z) / weights.white.Z};
        const Vector3 crowding =
            tristimulus(weights, [&](std::size_t b) { return response.by_S[b] * mix.dS_dp[b]; });
        std::array<Vector3, kMaxPaintsInMix> J{};
        for (std::size_t i = 0; i < mix_shares.count; ++i) {
            const paint::Paint& paint = evaluator_.paint(mix_shares.paint_index[i]);
            Vector3 t = tristimulus(weights, [&](std::size_t b) {
                return response.by_K[b] * (paint.K[b] - mix.K[b]) +
                       response.by_S[b] * (mix.scattering_gain[i] * paint.S[b] - mix.S[b]);
            });
            const double crowding_change = evaluator_.crowding_pigment(mix_shares.paint_index[i]) - mix.p;
            for (std::size_t axis = 0; axis < 3; ++axis)
                t[axis] = curve[axis] * mix_shares.share[i] * (t[axis] + crowding_change * crowding[axis]);
            J[i] = apply_metric(view, {116 * t[1], 500 * (t[0] - t[1]), 200 * (t[1] - t[2])});
        }
        for (std::size_t i = 0; i < mix_shares.count; ++i) {
            equations.gradient[i] -= dot(J[i], r);
            for (std::size_t j = 0; j < mix_shares.count; ++j) equations.gram[i][j] += dot(J[i], J[j]);
        }
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
        SquareMatrix A = equations.gram;
        double trace = 0;
        for (std::size_t i = 0; i < fit.count; ++i) trace += A[i][i];
        for (std::size_t i = 0; i < fit.count; ++i)
            A[i][i] += damping * A[i][i] + 1e-3 * damping * trace + 1e-12;
        const auto step_vector = solve(A, equations.gradient, fit.count);
        Fit next = fit;
        for (std::size_t i = 0; i < fit.count; ++i)
            next.log_weight[i] += std::clamp(step_vector[i], -kLongest, kLongest);
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
        inside[band] = film_over_ground_
                           ? reflectance_over(layer(mix.K[band], mix.S[band], film_over_ground_->film.value),
                                              film_over_ground_->ground[band])
                           : r_infinity(mix.K[band], mix.S[band]);
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

}  // namespace fadewright::film
