#include "fadewright/calibration/gun_fit.h"

#include "fadewright/spray/pass_segment.h"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace fadewright::calibration {
namespace {

constexpr int kMaxUnknowns = 7;           // unknowns of a fan's spot
constexpr double kMomentThreshold = 0.1;  // of the highest film, to count for the moments
constexpr int kTrialSteps = 8;            // for each initial taper
constexpr int kMaxSteps = 120;
constexpr double kConverged = 1e-9;       // of chi2, in one step
constexpr double kDifferenceStep = 1e-6;  // of an unknown, for derivatives
constexpr double kMinSize_mm = 0.05, kMaxSize_mm = 5000;

using Eigen::Index;
using Residuals = Eigen::VectorXd;
using Jacobian = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, Eigen::Dynamic, kMaxUnknowns>;
// No allocation for vectors and matrices of the unknowns.
using Vector = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, kMaxUnknowns, 1>;
using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, kMaxUnknowns, kMaxUnknowns>;

// The unknowns, in the order of the vector: centre across, amount, width, taper across, then for spots
// centre along, thickness and taper along. Sizes and amount by their logarithm, tapers by that of beta - 1.
struct Unknowns {
    spray::Pattern pattern;
    ShotKind shot;
    double span_mm;  // unit of the centres

    [[nodiscard]] Index count() const {
        if (pattern == spray::Pattern::round) return shot == ShotKind::pass ? 3 : 4;
        return shot == ShotKind::pass ? 4 : 7;
    }
    [[nodiscard]] bool has_taper() const { return pattern == spray::Pattern::fan; }
    // Index of the centre along.
    [[nodiscard]] Index along() const { return has_taper() ? 4 : 3; }
};

constexpr Index kAcross = 0, kAmount = 1, kWidth = 2, kTaper = 3, kThickness = 5, kTaperAlong = 6;

double taper_from_log(double v) { return 1 + std::exp(v); }
double clamp_taper(double v) { return std::clamp(v, std::log(kMinTaper - 1), std::log(kMaxTaper - 1)); }

GunFit fit_of(const Unknowns& u, const Vector& v) {
    GunFit fit;
    fit.shot = u.shot;
    fit.pattern = u.pattern;
    fit.across_mm.value = v[kAcross] * u.span_mm;
    fit.amount.value = std::exp(v[kAmount]);
    const double width = std::exp(v[kWidth]);
    if (u.has_taper()) {
        fit.fan_width_mm.value = width;
        fit.beta_across.value = taper_from_log(v[kTaper]);
    } else {
        fit.sigma_mm.value = width;
    }
    if (u.shot == ShotKind::pass) return fit;
    fit.along_mm.value = v[u.along()] * u.span_mm;
    if (u.has_taper()) {
        fit.fan_thickness_mm.value = std::exp(v[kThickness]);
        fit.beta_along.value = taper_from_log(v[kTaperAlong]);
    }
    return fit;
}

bool is_plausible(const Unknowns& u, const Vector& v) {
    const auto size = [](double log_mm) {
        return log_mm > std::log(kMinSize_mm) && log_mm < std::log(kMaxSize_mm);
    };
    if (!size(v[kWidth]) || std::abs(v[kAcross]) > 2 || std::abs(v[kAmount]) > 50) return false;
    if (u.shot == ShotKind::pass) return true;
    return std::abs(v[u.along()]) <= 2 && (!u.has_taper() || size(v[kThickness]));
}

// Residuals over their errors, and their derivatives.
class FitProblem {
public:
    FitProblem(std::span<const FilmReading> readings, const Unknowns& unknowns)
        : readings_(readings), unknowns_(unknowns) {}

    [[nodiscard]] Residuals residuals(const Vector& v) const {
        const GunFit fit = fit_of(unknowns_, v);
        const spray::Footprint footprint = footprint_of(fit);
        Residuals out(reading_count());
        std::transform(readings_.begin(), readings_.end(), out.begin(), [&](const FilmReading& r) {
            return (wet_um(fit, footprint, r.across_mm, r.along_mm) - r.wet_um) / r.error_um;
        });
        return out;
    }

    [[nodiscard]] Jacobian jacobian(const Vector& v) const {
        Jacobian J(reading_count(), v.size());
        for (Index k = 0; k < v.size(); ++k) {
            const Vector step = kDifferenceStep * Vector::Unit(v.size(), k);
            J.col(k) = (residuals(v + step) - residuals(v - step)) / (2 * kDifferenceStep);
        }
        return J;
    }

    [[nodiscard]] const Unknowns& unknowns() const { return unknowns_; }
    [[nodiscard]] Index reading_count() const { return static_cast<Index>(readings_.size()); }

private:
    std::span<const FilmReading> readings_;
    Unknowns unknowns_;
};

struct FitState {
    Vector v;
    double chi2 = 0;
};

Vector take_step(const Unknowns& u, Vector v, const Vector& step) {
    v -= step;
    if (u.has_taper()) {
        v[kTaper] = clamp_taper(v[kTaper]);
        if (u.shot == ShotKind::spot) v[kTaperAlong] = clamp_taper(v[kTaperAlong]);
    }
    return v;
}

// Damped steps from v to convergence.
FitState descend(const FitProblem& problem, Vector v, int steps) {
    Residuals residuals = problem.residuals(v);
    double chi2 = residuals.squaredNorm();
    double damping = 1e-3;
    for (int step = 0; step < steps; ++step) {
        const Jacobian J = problem.jacobian(v);
        const Matrix JJ = J.transpose() * J;
        const Vector Jr = J.transpose() * residuals;
        bool improved = false;
        const double before = chi2;
        for (; damping < 1e12 && !improved; damping *= improved ? 1 : 8) {
            Matrix A = JJ;
            A.diagonal().array() += damping * JJ.diagonal().array() + 1e-300;
            const Eigen::LLT<Matrix> root(A);
            if (root.info() != Eigen::Success) continue;
            const Vector next = take_step(problem.unknowns(), v, root.solve(Jr));
            if (!is_plausible(problem.unknowns(), next)) continue;
            Residuals next_residuals = problem.residuals(next);
            const double sum = next_residuals.squaredNorm();
            if (!(sum <= chi2)) continue;
            v = next;
            chi2 = sum;
            residuals.swap(next_residuals);
            improved = true;
        }
        damping = std::max(damping / 20, 1e-9);
        if (!improved || before - chi2 <= kConverged * chi2) break;
    }
    return {v, chi2};
}

struct Moments {
    double highest = 0, across = 0, along = 0, across_spread = 0, along_spread = 0, span = 0;
};

// Moments of the film above the threshold.
Moments moments(std::span<const FilmReading> readings) {
    Moments m;
    double low = 0, high = 0;
    for (const FilmReading& r : readings) {
        m.highest = std::max(m.highest, r.wet_um);
        low = std::min({low, r.across_mm, r.along_mm});
        high = std::max({high, r.across_mm, r.along_mm});
    }
    m.span = high - low;
    double sum = 0, x = 0, y = 0, xx = 0, yy = 0;
    for (const FilmReading& r : readings) {
        if (r.wet_um < kMomentThreshold * m.highest) continue;
        sum += r.wet_um;
        x += r.wet_um * r.across_mm;
        y += r.wet_um * r.along_mm;
        xx += r.wet_um * r.across_mm * r.across_mm;
        yy += r.wet_um * r.along_mm * r.along_mm;
    }
    if (!(sum > 0)) return m;
    m.across = x / sum;
    m.along = y / sum;
    m.across_spread = std::sqrt(std::max(0.0, xx / sum - m.across * m.across));
    m.along_spread = std::sqrt(std::max(0.0, yy / sum - m.along * m.along));
    return m;
}

// Size from the moments for the given tapers, and amount from the highest film.
Vector initial_vector(const Unknowns& u, const Moments& m, double taper) {
    Vector v = Vector::Zero(u.count());
    const double min_size = kMinSize_mm * 2;
    const double across = std::max(m.across_spread, min_size), along = std::max(m.along_spread, min_size);
    v[kAcross] = m.across / u.span_mm;
    v[kWidth] = std::log(across);
    if (u.has_taper()) {
        v[kWidth] = std::log(2 * across * std::sqrt(2 * taper + 2));
        v[kTaper] = std::log(taper - 1);
    }
    if (u.shot == ShotKind::spot) {
        v[u.along()] = m.along / u.span_mm;
        if (u.has_taper()) {
            v[kThickness] = std::log(2 * along * std::sqrt(2 * taper + 2));
            v[kTaperAlong] = std::log(taper - 1);
        }
    }
    const GunFit unit = fit_of(u, v);
    const double at_middle = wet_um(unit, footprint_of(unit), unit.across_mm.value, unit.along_mm.value);
    v[kAmount] = std::log(m.highest / at_middle);
    return v;
}

std::optional<GunFit> add_errors(const FitProblem& problem, const FitState& state,
                                 std::span<const FilmReading> readings) {
    const Unknowns& u = problem.unknowns();
    GunFit fit = fit_of(u, state.v);
    const Jacobian J = problem.jacobian(state.v);
    const Eigen::LLT<Matrix> root(Matrix(J.transpose() * J));
    const Matrix covariance = root.solve(Matrix::Identity(J.cols(), J.cols()));
    if (root.info() != Eigen::Success || !covariance.allFinite()) return std::nullopt;
    fit.error_scale = std::max(1.0, std::sqrt(state.chi2 / static_cast<double>(J.rows() - J.cols())));
    const Vector error = fit.error_scale * covariance.diagonal().cwiseSqrt();
    fit.across_mm.error = error[kAcross] * u.span_mm;
    fit.amount.error = error[kAmount] * fit.amount.value;
    fit.sigma_mm.error = error[kWidth] * fit.sigma_mm.value;
    fit.fan_width_mm.error = error[kWidth] * fit.fan_width_mm.value;
    if (u.has_taper()) fit.beta_across.error = error[kTaper] * (fit.beta_across.value - 1);
    if (u.shot == ShotKind::spot) {
        fit.along_mm.error = error[u.along()] * u.span_mm;
        if (u.has_taper()) {
            fit.fan_thickness_mm.error = error[kThickness] * fit.fan_thickness_mm.value;
            fit.beta_along.error = error[kTaperAlong] * (fit.beta_along.value - 1);
        }
    }
    const auto at_limit = [](double taper) {
        return taper > 0 && (taper <= kMinTaper * (1 + 1e-9) || taper >= kMaxTaper * (1 - 1e-9));
    };
    fit.taper_at_limit = at_limit(fit.beta_across.value) || at_limit(fit.beta_along.value);
    const spray::Footprint footprint = footprint_of(fit);
    double squares = 0;
    for (const FilmReading& r : readings)
        squares += std::pow(wet_um(fit, footprint, r.across_mm, r.along_mm) - r.wet_um, 2);
    fit.rms_error_um = std::sqrt(squares / static_cast<double>(readings.size()));
    return fit;
}

}  // namespace

std::optional<GunFit> fit_gun(std::span<const FilmReading> readings, spray::Pattern pattern, ShotKind shot) {
    const Moments m = moments(readings);
    const Unknowns unknowns{pattern, shot, m.span};
    if (std::ssize(readings) < 2 * unknowns.count() || !(m.highest > 0) || !(m.span > 0)) return std::nullopt;
    const FitProblem problem(readings, unknowns);
    std::optional<FitState> best;
    for (const double taper : {2.0, 1.4, 3.5, 7.0}) {
        const Vector from = initial_vector(unknowns, m, taper);
        if (!is_plausible(unknowns, from)) continue;
        const FitState state = descend(problem, from, kTrialSteps);
        if (std::isfinite(state.chi2) && (!best || state.chi2 < best->chi2)) best = state;
        if (!unknowns.has_taper()) break;
    }
    if (!best) return std::nullopt;
    return add_errors(problem, descend(problem, best->v, kMaxSteps), readings);
}

spray::Footprint footprint_of(const GunFit& fit) {
    spray::Gun gun;
    gun.pattern = fit.pattern;
    if (fit.pattern == spray::Pattern::round) {
        gun.sigma = Millimetres{fit.sigma_mm.value};
        return spray::footprint_of(gun);
    }
    gun.fan_width = Millimetres{fit.fan_width_mm.value};
    gun.beta_across = fit.beta_across.value;
    if (fit.shot == ShotKind::spot) {
        gun.fan_thickness = Millimetres{fit.fan_thickness_mm.value};
        gun.beta_along = fit.beta_along.value;
    }
    return spray::footprint_of(gun);
}

double wet_um(const GunFit& fit, const spray::Footprint& footprint, double across_mm,
              double along_mm) noexcept {
    const double x = across_mm - fit.across_mm.value;
    const double share = fit.shot == ShotKind::pass
                             ? spray::pass_profile(footprint, x)
                             : spray::value_at(footprint, x, along_mm - fit.along_mm.value);
    return spray::kMicrometresPerMillimetre * fit.amount.value * share;
}

}  // namespace fadewright::calibration
