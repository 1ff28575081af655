#include "match_fit.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/film/layer.h"

#include <algorithm>
#include <cmath>
#include <nlopt.hpp>

namespace fadewright::film {
namespace {

// The lightest touch of a paint that a search keeps, as a logarithm of its share.
const double kFaintest = std::log(1e-6);

// Differences that are taken for nothing: far below what rounds to the printed digits.
constexpr double kNothing = 1e-7;

using Triple = std::array<double, 3>;
using Square = std::array<std::array<double, kMostInPot>, kMostInPot>;

// Solves A x = b for a symmetric positive definite A of the given size by Cholesky's factors; A is used up.
std::array<double, kMostInPot> solved(Square& A, std::array<double, kMostInPot> b, std::size_t size) {
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

colour::Lab moved(colour::Lab lab, std::size_t axis, double by) {
    (axis == 0 ? lab.L : axis == 1 ? lab.a : lab.b) += by;
    return lab;
}

// CIEDE2000 squared is nearly a quadratic form of a small step away from the target; from its values the
// form, from the form its triangular root.
std::array<std::array<double, 3>, 3> ruler_at(const colour::Lab& target) {
    constexpr double h = 0.05;  // small in CIEDE2000, large against rounding
    const auto square = [&](const colour::Lab& lab) {
        const double d = colour::delta_e_2000(target, lab);
        return d * d / (h * h);
    };
    std::array<std::array<double, 3>, 3> form{};
    for (std::size_t i = 0; i < 3; ++i) form[i][i] = square(moved(target, i, h));
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < i; ++j)
            form[i][j] =
                (square(moved(moved(target, i, h), j, h)) - square(moved(moved(target, i, h), j, -h))) / 4;
    std::array<std::array<double, 3>, 3> root{};  // form = root^T root, root upper triangular
    for (std::size_t j = 0; j < 3; ++j)
        for (std::size_t i = j; i < 3; ++i) {
            double left = form[i][j];
            for (std::size_t k = 0; k < j; ++k) left -= root[k][i] * root[k][j];
            root[j][i] = i == j ? std::sqrt(std::max(left, 1e-6)) : left / root[j][j];
        }
    return root;
}

// Slope of the curve of Lab (colour/lab.h) at t.
double lab_slope(double t) noexcept {
    constexpr double kStraight = 6.0 / 29;
    if (t <= kStraight * kStraight * kStraight) return 1 / (3 * kStraight * kStraight);
    const double root = std::cbrt(t);
    return 1 / (3 * root * root);
}

double dot(const Triple& a, const Triple& b) noexcept { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }

Triple on_ruler(const Eye& eye, const Triple& difference) noexcept {
    Triple r{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = i; j < 3; ++j) r[i] += eye.weight * eye.ruler[i][j] * difference[j];
    return r;
}

// X, Y, Z of something given band by band.
template <class Bands>
Triple weighed(const colour::Weights& weights, Bands bands) noexcept {
    Triple sum{};
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        const double value = bands(band);
        for (std::size_t axis = 0; axis < 3; ++axis) sum[axis] += weights.w[band][axis] * value;
    }
    return sum;
}

void centre(Fit& fit) noexcept {
    const double top = *std::max_element(fit.log_weight.begin(),
                                         fit.log_weight.begin() + static_cast<std::ptrdiff_t>(fit.count));
    for (std::size_t i = 0; i < fit.count; ++i)
        fit.log_weight[i] = std::max(fit.log_weight[i] - top, kFaintest);
}

}  // namespace

// What is seen of a mix in each band, and how that follows K and S.
struct Fitter::Bend {
    colour::Reflectance seen;
    std::array<double, colour::kBandCount> by_K{}, by_S{};
};

// Normal equations of one step.
struct Fitter::Slopes {
    Square gram{};
    std::array<double, kMostInPot> pull{};
};

Eye::Eye(const Looker& by, const colour::Lab& at, double counted)
    : looker(by), target(at), weight(counted), ruler(ruler_at(at)) {}

Trial Fit::trial() const noexcept {
    Trial trial;
    trial.count = count;
    trial.who = who;
    double sum = 0;
    for (std::size_t i = 0; i < count; ++i) sum += trial.share[i] = std::exp(log_weight[i]);
    for (std::size_t i = 0; i < count; ++i) trial.share[i] /= sum;
    return trial;
}

Fitter::Fitter(const Pot& pot, std::vector<Eye> eyes, Specular specular, std::optional<MatchFilm> over)
    : pot_(pot),
      eyes_(std::move(eyes)),
      over_(over),
      skin_(eyes_.front().looker.skin()),
      specular_(specular) {}

Fitter::Bend Fitter::bend(const PotOptics& mix) const {
    Bend bend;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        const double K = mix.K[band];
        const double S = mix.S[band];
        double R, by_K, by_S;
        if (over_) {
            const double X = over_->film.value;
            const double R_g = over_->ground[band];
            const double hK = 1e-6 * K + 1e-9;
            const double hS = 1e-6 * S + 1e-9;
            R = over(layer(K, S, X), R_g);
            by_K = (over(layer(K + hK, S, X), R_g) - R) / hK;
            by_S = (over(layer(K, S + hS, X), R_g) - R) / hS;
        } else {
            R = thick(K, S);
            const double root = std::sqrt(K * (K + 2 * S)) + 1e-12;  // a perfect white bends infinitely
            by_K = -R / root;
            by_S = K / (root * (K + S + root));
        }
        bend.seen[band] = measured(skin_, R, specular_);
        const double left = 1 - skin_.k2 * R;
        const double skin = (1 - skin_.k1) * (1 - skin_.k2) / (left * left);
        bend.by_K[band] = skin * by_K;
        bend.by_S[band] = skin * by_S;
    }
    return bend;
}

// Sum of the squares of the weighted differences, and the normal equations of a step from here.
double Fitter::square_of(const Fit& fit, Slopes& slopes) const {
    const Trial trial = fit.trial();
    const PotOptics mix = pot_.optics(trial);
    const Bend bend = this->bend(mix);
    slopes = {};
    double sum = 0;
    for (const Eye& eye : eyes_) {
        const colour::Weights& weights = eye.looker.weights();
        const colour::XYZ xyz = colour::to_xyz(bend.seen, weights);
        const colour::Lab lab = colour::to_lab(xyz, weights.white);
        const Triple r = on_ruler(eye, {lab.L - eye.target.L, lab.a - eye.target.a, lab.b - eye.target.b});
        sum += r[0] * r[0] + r[1] * r[1] + r[2] * r[2];
        const Triple curve{lab_slope(xyz.X / weights.white.X) / weights.white.X,
                           lab_slope(xyz.Y / weights.white.Y) / weights.white.Y,
                           lab_slope(xyz.Z / weights.white.Z) / weights.white.Z};
        const Triple crowding = weighed(weights, [&](std::size_t b) { return bend.by_S[b] * mix.dS_dp[b]; });
        std::array<Triple, kMostInPot> J{};
        for (std::size_t i = 0; i < trial.count; ++i) {
            const paint::Paint& paint = pot_.paint(trial.who[i]);
            Triple t = weighed(weights, [&](std::size_t b) {
                return bend.by_K[b] * (paint.K[b] - mix.K[b]) +
                       bend.by_S[b] * (mix.gain[i] * paint.S[b] - mix.S[b]);
            });
            const double denser = pot_.crowded(trial.who[i]) - mix.p;
            for (std::size_t axis = 0; axis < 3; ++axis)
                t[axis] = curve[axis] * trial.share[i] * (t[axis] + denser * crowding[axis]);
            J[i] = on_ruler(eye, {116 * t[1], 500 * (t[0] - t[1]), 200 * (t[1] - t[2])});
        }
        for (std::size_t i = 0; i < trial.count; ++i) {
            slopes.pull[i] -= dot(J[i], r);
            for (std::size_t j = 0; j < trial.count; ++j) slopes.gram[i][j] += dot(J[i], J[j]);
        }
    }
    return sum;
}

// Levenberg's damping: short steps while they fail, longer ones while they serve.
Fit Fitter::fitted(Fit fit, int steps) const {
    constexpr double kLongest = 2.5;  // of one step, in logarithms: a factor of twelve
    constexpr double kEnough = 1e-4;  // relative gain below which a fit is finished
    centre(fit);
    double damping = 1e-2;
    Slopes slopes;
    double square = square_of(fit, slopes);
    for (int step = 0; step < steps && square > kNothing; ++step) {
        Square A = slopes.gram;
        double trace = 0;
        for (std::size_t i = 0; i < fit.count; ++i) trace += A[i][i];
        for (std::size_t i = 0; i < fit.count; ++i)
            A[i][i] += damping * A[i][i] + 1e-3 * damping * trace + 1e-12;
        const auto move = solved(A, slopes.pull, fit.count);
        Fit next = fit;
        for (std::size_t i = 0; i < fit.count; ++i)
            next.log_weight[i] += std::clamp(move[i], -kLongest, kLongest);
        centre(next);
        Slopes there;
        const double reached = square_of(next, there);
        if (reached < square) {
            const bool finished = square - reached < kEnough * square;
            fit = next;
            square = reached;
            slopes = there;
            damping = std::max(damping / 5, 1e-9);
            if (finished) break;
        } else {
            damping *= 8;
            if (damping > 1e6) break;
        }
    }
    fit.miss = std::sqrt(square);
    return fit;
}

double Fitter::miss(const Trial& trial) const {
    const PotOptics mix = pot_.optics(trial);
    colour::Reflectance inside;
    for (std::size_t band = 0; band < colour::kBandCount; ++band)
        inside[band] = over_ ? over(layer(mix.K[band], mix.S[band], over_->film.value), over_->ground[band])
                             : thick(mix.K[band], mix.S[band]);
    const colour::Reflectance seen = film::seen(inside, skin_, specular_);
    double sum = 0;
    for (const Eye& eye : eyes_) {
        const colour::Weights& weights = eye.looker.weights();
        const colour::Lab lab = colour::to_lab(colour::to_xyz(seen, weights), weights.white);
        const double d = eye.weight * colour::delta_e_2000(eye.target, lab);
        sum += d * d;
    }
    return std::sqrt(sum);
}

namespace {

// What NLopt calls with one number for every paint but the fixed one.
struct Polishing {
    const Fitter& fitter;
    Fit best;
    std::size_t fixed;

    static double tried(const std::vector<double>& at, std::vector<double>& /*slope*/, void* self) {
        auto& polishing = *static_cast<Polishing*>(self);
        Fit fit = polishing.best;
        std::size_t next = 0;
        for (std::size_t i = 0; i < fit.count; ++i)
            if (i != polishing.fixed) fit.log_weight[i] = at[next++];
        fit.miss = polishing.fitter.miss(fit.trial());
        if (fit.miss < polishing.best.miss) polishing.best = fit;
        return fit.miss;
    }
};

}  // namespace

Fit Fitter::polished(const Fit& start) const {
    Fit best = start;
    best.miss = miss(best.trial());
    if (best.count < 2 || best.miss < kNothing) return best;
    // The most plentiful paint stays at weight 1; the others move against it.
    const auto& logs = best.log_weight;
    const auto fixed = static_cast<std::size_t>(
        std::max_element(logs.begin(), logs.begin() + static_cast<std::ptrdiff_t>(best.count)) -
        logs.begin());
    std::vector<double> x;
    for (std::size_t i = 0; i < best.count; ++i)
        if (i != fixed) x.push_back(best.log_weight[i]);
    Polishing polishing{*this, best, fixed};
    nlopt::opt search(nlopt::LN_SBPLX, static_cast<unsigned>(x.size()));
    search.set_min_objective(&Polishing::tried, &polishing);
    search.set_initial_step(0.05);
    search.set_xtol_rel(1e-6);
    search.set_ftol_abs(1e-5);
    search.set_stopval(1e-5);
    search.set_maxeval(400);
    double least = 0;
    try {
        (void)search.optimize(x, least);
    } catch (const nlopt::roundoff_limited&) {
        // the best trial so far is kept
    }
    centre(polishing.best);
    return polishing.best;
}

}  // namespace fadewright::film
