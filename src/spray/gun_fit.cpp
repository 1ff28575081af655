#include "fadewright/spray/gun_fit.h"

#include "fadewright/spray/pass_segment.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace fadewright::spray {
namespace {

constexpr std::size_t kMaxUnknowns = 7;   // unknowns of a fan's spot
constexpr double kMomentThreshold = 0.1;  // of the highest film, to count for the moments
constexpr int kTrialSteps = 8;            // for each initial taper
constexpr int kMaxSteps = 120;
constexpr double kConverged = 1e-9;       // of chi2, in one step
constexpr double kDifferenceStep = 1e-6;  // of an unknown, for derivatives
constexpr double kMinSize_mm = 0.05, kMaxSize_mm = 5000;

using Vector = std::array<double, kMaxUnknowns>;
using Matrix = std::array<Vector, kMaxUnknowns>;

// The unknowns, in the order of the vector: centre across, amount, width, taper across, then for spots
// centre along, thickness and taper along. Sizes and amount by their logarithm, tapers by that of beta - 1.
struct Unknowns {
    Pattern pattern;
    ShotKind shot;
    double span_mm;  // unit of the centres

    [[nodiscard]] std::size_t count() const {
        if (pattern == Pattern::round) return shot == ShotKind::pass ? 3 : 4;
        return shot == ShotKind::pass ? 4 : 7;
    }
    [[nodiscard]] bool has_taper() const { return pattern == Pattern::fan; }
    // Index of the centre along.
    [[nodiscard]] std::size_t along() const { return has_taper() ? 4 : 3; }
};

constexpr std::size_t kAcross = 0, kAmount = 1, kWidth = 2, kTaper = 3, kThickness = 5, kTaperAlong = 6;

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

    void evaluate(const Vector& v, std::vector<double>& out) const {
        const GunFit fit = fit_of(unknowns_, v);
        const Footprint footprint = footprint_of(fit);
        out.resize(readings_.size());
        for (std::size_t i = 0; i < readings_.size(); ++i) {
            const FilmReading& r = readings_[i];
            out[i] = (wet_um(fit, footprint, r.across_mm, r.along_mm) - r.wet_um) / r.error_um;
        }
    }

    // J^T J and J^T r about v.
    void normal_equations(const Vector& v, const std::vector<double>& residuals, Matrix& JJ,
                          Vector& Jr) const {
        const std::size_t n = unknowns_.count();
        std::vector<std::vector<double>> slopes(n);
        std::vector<double> ahead, behind;
        for (std::size_t k = 0; k < n; ++k) {
            Vector forth = v, back = v;
            forth[k] += kDifferenceStep;
            back[k] -= kDifferenceStep;
            evaluate(forth, ahead);
            evaluate(back, behind);
            slopes[k].resize(residuals.size());
            for (std::size_t i = 0; i < residuals.size(); ++i)
                slopes[k][i] = (ahead[i] - behind[i]) / (2 * kDifferenceStep);
        }
        for (std::size_t a = 0; a < n; ++a) {
            Jr[a] = 0;
            for (std::size_t i = 0; i < residuals.size(); ++i) Jr[a] += slopes[a][i] * residuals[i];
            for (std::size_t b = 0; b <= a; ++b) {
                double sum = 0;
                for (std::size_t i = 0; i < residuals.size(); ++i) sum += slopes[a][i] * slopes[b][i];
                JJ[a][b] = JJ[b][a] = sum;
            }
        }
    }

    [[nodiscard]] const Unknowns& unknowns() const { return unknowns_; }
    [[nodiscard]] std::size_t reading_count() const { return readings_.size(); }

private:
    std::span<const FilmReading> readings_;
    Unknowns unknowns_;
};

double sum_of_squares(const std::vector<double>& values) {
    double sum = 0;
    for (const double v : values) sum += v * v;
    return sum;
}

// Cholesky factor in place; false if the matrix is not positive definite.
bool cholesky_factor(Matrix& A, std::size_t n) {
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j <= i; ++j) {
            double sum = A[i][j];
            for (std::size_t k = 0; k < j; ++k) sum -= A[i][k] * A[j][k];
            if (i == j) {
                if (!(sum > 0)) return false;
                A[i][i] = std::sqrt(sum);
            } else {
                A[i][j] = sum / A[j][j];
            }
        }
    return true;
}

Vector cholesky_solve(const Matrix& L, const Vector& b, std::size_t n) {
    Vector x = b;
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t k = 0; k < i; ++k) x[i] -= L[i][k] * x[k];
        x[i] /= L[i][i];
    }
    for (std::size_t i = n; i-- > 0;) {
        for (std::size_t k = i + 1; k < n; ++k) x[i] -= L[k][i] * x[k];
        x[i] /= L[i][i];
    }
    return x;
}

struct FitState {
    Vector v{};
    double chi2 = 0;
};

Vector take_step(const Unknowns& u, Vector v, const Vector& step) {
    for (std::size_t k = 0; k < u.count(); ++k) v[k] -= step[k];
    if (u.has_taper()) {
        v[kTaper] = clamp_taper(v[kTaper]);
        if (u.shot == ShotKind::spot) v[kTaperAlong] = clamp_taper(v[kTaperAlong]);
    }
    return v;
}

// Damped steps from v to convergence.
FitState descend(const FitProblem& problem, Vector v, int steps) {
    const std::size_t n = problem.unknowns().count();
    std::vector<double> residuals, next_residuals;
    problem.evaluate(v, residuals);
    double chi2 = sum_of_squares(residuals);
    double damping = 1e-3;
    for (int step = 0; step < steps; ++step) {
        Matrix JJ{};
        Vector Jr{};
        problem.normal_equations(v, residuals, JJ, Jr);
        bool improved = false;
        const double before = chi2;
        for (; damping < 1e12 && !improved; damping *= improved ? 1 : 8) {
            Matrix A = JJ;
            for (std::size_t k = 0; k < n; ++k) A[k][k] += damping * JJ[k][k] + 1e-300;
            if (!cholesky_factor(A, n)) continue;
            const Vector next = take_step(problem.unknowns(), v, cholesky_solve(A, Jr, n));
            if (!is_plausible(problem.unknowns(), next)) continue;
            problem.evaluate(next, next_residuals);
            const double sum = sum_of_squares(next_residuals);
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
    Vector v{};
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
    const std::size_t n = u.count();
    GunFit fit = fit_of(u, state.v);
    std::vector<double> residuals;
    problem.evaluate(state.v, residuals);
    Matrix JJ{};
    Vector Jr{};
    problem.normal_equations(state.v, residuals, JJ, Jr);
    if (!cholesky_factor(JJ, n)) return std::nullopt;
    fit.error_scale = std::max(1.0, std::sqrt(state.chi2 / static_cast<double>(problem.reading_count() - n)));
    Vector error{};
    for (std::size_t k = 0; k < n; ++k) {
        Vector unit{};
        unit[k] = 1;
        error[k] = fit.error_scale * std::sqrt(cholesky_solve(JJ, unit, n)[k]);
    }
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
    double squares = 0;
    for (std::size_t i = 0; i < residuals.size(); ++i) {
        const double um = residuals[i] * readings[i].error_um;
        squares += um * um;
    }
    fit.rms_error_um = std::sqrt(squares / static_cast<double>(residuals.size()));
    return fit;
}

}  // namespace

std::optional<GunFit> fit_gun(std::span<const FilmReading> readings, Pattern pattern, ShotKind shot) {
    const Moments m = moments(readings);
    const Unknowns unknowns{pattern, shot, m.span};
    if (readings.size() < 2 * unknowns.count() || !(m.highest > 0) || !(m.span > 0)) return std::nullopt;
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

Footprint footprint_of(const GunFit& fit) {
    Gun gun;
    gun.pattern = fit.pattern;
    if (fit.pattern == Pattern::round) {
        gun.sigma = Millimetres{fit.sigma_mm.value};
        return footprint_of(gun);
    }
    gun.fan_width = Millimetres{fit.fan_width_mm.value};
    gun.beta_across = fit.beta_across.value;
    if (fit.shot == ShotKind::spot) {
        gun.fan_thickness = Millimetres{fit.fan_thickness_mm.value};
        gun.beta_along = fit.beta_along.value;
    }
    return footprint_of(gun);
}

double wet_um(const GunFit& fit, const Footprint& footprint, double across_mm, double along_mm) noexcept {
    const double x = across_mm - fit.across_mm.value;
    const double share = fit.shot == ShotKind::pass ? pass_profile(footprint, x)
                                                    : value_at(footprint, x, along_mm - fit.along_mm.value);
    return kMicrometresPerMillimetre * fit.amount.value * share;
}

}  // namespace fadewright::spray
