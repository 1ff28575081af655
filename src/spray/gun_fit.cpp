#include "fadewright/spray/gun_fit.h"

#include "fadewright/spray/stroke.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace fadewright::spray {
namespace {

constexpr std::size_t kMost = 7;   // unknowns of a fan's spot
constexpr double kStanding = 0.1;  // of the highest film: what counts for the moments
constexpr int kTrialSteps = 8;     // for each taper tried first
constexpr int kMostSteps = 120;
constexpr double kSettled = 1e-9;  // of chi2, in one step
constexpr double kNudge = 1e-6;    // of an unknown, for slopes
constexpr double kLeastSize_mm = 0.05, kMostSize_mm = 5000;

using Vector = std::array<double, kMost>;
using Matrix = std::array<Vector, kMost>;

// What is looked for, in the order of the vector: middle across, amount, width, taper across, then for spots
// the middle along, depth and taper along. Sizes and amount by their logarithm, tapers by that of beta - 1.
struct Unknowns {
    Pattern pattern;
    Laid laid;
    double span_mm;  // by which middles are measured

    [[nodiscard]] std::size_t count() const {
        if (pattern == Pattern::round) return laid == Laid::pass ? 3 : 4;
        return laid == Laid::pass ? 4 : 7;
    }
    [[nodiscard]] bool has_taper() const { return pattern == Pattern::fan; }
    // Where the middle along stands.
    [[nodiscard]] std::size_t along() const { return has_taper() ? 4 : 3; }
};

constexpr std::size_t kAcross = 0, kAmount = 1, kWidth = 2, kTaper = 3, kDepth = 5, kTaperAlong = 6;

double taper_of(double v) { return 1 + std::exp(v); }
double held_taper(double v) { return std::clamp(v, std::log(kLeastTaper - 1), std::log(kMostTaper - 1)); }

GunFit fit_of(const Unknowns& u, const Vector& v) {
    GunFit fit;
    fit.laid = u.laid;
    fit.pattern = u.pattern;
    fit.across_mm.value = v[kAcross] * u.span_mm;
    fit.amount.value = std::exp(v[kAmount]);
    const double width = std::exp(v[kWidth]);
    if (u.has_taper()) {
        fit.fan_width_mm.value = width;
        fit.beta_across.value = taper_of(v[kTaper]);
    } else {
        fit.sigma_mm.value = width;
    }
    if (u.laid == Laid::pass) return fit;
    fit.along_mm.value = v[u.along()] * u.span_mm;
    if (u.has_taper()) {
        fit.fan_depth_mm.value = std::exp(v[kDepth]);
        fit.beta_along.value = taper_of(v[kTaperAlong]);
    }
    return fit;
}

bool sensible(const Unknowns& u, const Vector& v) {
    const auto size = [](double log_mm) {
        return log_mm > std::log(kLeastSize_mm) && log_mm < std::log(kMostSize_mm);
    };
    if (!size(v[kWidth]) || std::abs(v[kAcross]) > 2 || std::abs(v[kAmount]) > 50) return false;
    if (u.laid == Laid::pass) return true;
    return std::abs(v[u.along()]) <= 2 && (!u.has_taper() || size(v[kDepth]));
}

// Everything a step needs: the misses by their errors, and how they change.
class Problem {
public:
    Problem(std::span<const FilmReading> readings, const Unknowns& unknowns)
        : readings_(readings), unknowns_(unknowns) {}

    void miss(const Vector& v, std::vector<double>& out) const {
        const GunFit fit = fit_of(unknowns_, v);
        const Footprint footprint = footprint_of(fit);
        out.resize(readings_.size());
        for (std::size_t i = 0; i < readings_.size(); ++i) {
            const FilmReading& r = readings_[i];
            out[i] = (wet_um(fit, footprint, r.across_mm, r.along_mm) - r.wet_um) / r.error_um;
        }
    }

    // J^T J and J^T r about v.
    void normal(const Vector& v, const std::vector<double>& here, Matrix& JJ, Vector& Jr) const {
        const std::size_t n = unknowns_.count();
        std::vector<std::vector<double>> slopes(n);
        std::vector<double> ahead, behind;
        for (std::size_t k = 0; k < n; ++k) {
            Vector forth = v, back = v;
            forth[k] += kNudge;
            back[k] -= kNudge;
            miss(forth, ahead);
            miss(back, behind);
            slopes[k].resize(here.size());
            for (std::size_t i = 0; i < here.size(); ++i)
                slopes[k][i] = (ahead[i] - behind[i]) / (2 * kNudge);
        }
        for (std::size_t a = 0; a < n; ++a) {
            Jr[a] = 0;
            for (std::size_t i = 0; i < here.size(); ++i) Jr[a] += slopes[a][i] * here[i];
            for (std::size_t b = 0; b <= a; ++b) {
                double sum = 0;
                for (std::size_t i = 0; i < here.size(); ++i) sum += slopes[a][i] * slopes[b][i];
                JJ[a][b] = JJ[b][a] = sum;
            }
        }
    }

    [[nodiscard]] const Unknowns& unknowns() const { return unknowns_; }
    [[nodiscard]] std::size_t places() const { return readings_.size(); }

private:
    std::span<const FilmReading> readings_;
    Unknowns unknowns_;
};

double sum_of_squares(const std::vector<double>& values) {
    double sum = 0;
    for (const double v : values) sum += v * v;
    return sum;
}

// Cholesky's factor in place; false if the matrix is not positive.
bool factored(Matrix& A, std::size_t n) {
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

Vector solved(const Matrix& L, const Vector& b, std::size_t n) {
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

struct Reached {
    Vector v{};
    double chi2 = 0;
};

Vector stepped(const Unknowns& u, Vector v, const Vector& step) {
    for (std::size_t k = 0; k < u.count(); ++k) v[k] -= step[k];
    if (u.has_taper()) {
        v[kTaper] = held_taper(v[kTaper]);
        if (u.laid == Laid::spot) v[kTaperAlong] = held_taper(v[kTaperAlong]);
    }
    return v;
}

// Damped steps from v, until nothing is gained.
Reached descended(const Problem& problem, Vector v, int steps) {
    const std::size_t n = problem.unknowns().count();
    std::vector<double> here, there;
    problem.miss(v, here);
    double chi2 = sum_of_squares(here);
    double damping = 1e-3;
    for (int step = 0; step < steps; ++step) {
        Matrix JJ{};
        Vector Jr{};
        problem.normal(v, here, JJ, Jr);
        bool gained = false;
        const double before = chi2;
        for (; damping < 1e12 && !gained; damping *= gained ? 1 : 8) {
            Matrix A = JJ;
            for (std::size_t k = 0; k < n; ++k) A[k][k] += damping * JJ[k][k] + 1e-300;
            if (!factored(A, n)) continue;
            const Vector next = stepped(problem.unknowns(), v, solved(A, Jr, n));
            if (!sensible(problem.unknowns(), next)) continue;
            problem.miss(next, there);
            const double sum = sum_of_squares(there);
            if (!(sum <= chi2)) continue;
            v = next;
            chi2 = sum;
            here.swap(there);
            gained = true;
        }
        damping = std::max(damping / 20, 1e-9);
        if (!gained || before - chi2 <= kSettled * chi2) break;
    }
    return {v, chi2};
}

struct Moments {
    double highest = 0, across = 0, along = 0, across_spread = 0, along_spread = 0, span = 0;
};

// Of the film that stands out, by its places alone.
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
        if (r.wet_um < kStanding * m.highest) continue;
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

// The size that has this spread, the tapers as given; and the amount that has this highest film.
Vector start(const Unknowns& u, const Moments& m, double taper) {
    Vector v{};
    const double least = kLeastSize_mm * 2;
    const double across = std::max(m.across_spread, least), along = std::max(m.along_spread, least);
    v[kAcross] = m.across / u.span_mm;
    v[kWidth] = std::log(across);
    if (u.has_taper()) {
        v[kWidth] = std::log(2 * across * std::sqrt(2 * taper + 2));
        v[kTaper] = std::log(taper - 1);
    }
    if (u.laid == Laid::spot) {
        v[u.along()] = m.along / u.span_mm;
        if (u.has_taper()) {
            v[kDepth] = std::log(2 * along * std::sqrt(2 * taper + 2));
            v[kTaperAlong] = std::log(taper - 1);
        }
    }
    const GunFit unit = fit_of(u, v);
    const double at_middle = wet_um(unit, footprint_of(unit), unit.across_mm.value, unit.along_mm.value);
    v[kAmount] = std::log(m.highest / at_middle);
    return v;
}

std::optional<GunFit> with_errors(const Problem& problem, const Reached& reached,
                                  std::span<const FilmReading> readings) {
    const Unknowns& u = problem.unknowns();
    const std::size_t n = u.count();
    GunFit fit = fit_of(u, reached.v);
    std::vector<double> here;
    problem.miss(reached.v, here);
    Matrix JJ{};
    Vector Jr{};
    problem.normal(reached.v, here, JJ, Jr);
    if (!factored(JJ, n)) return std::nullopt;
    fit.scale = std::max(1.0, std::sqrt(reached.chi2 / static_cast<double>(problem.places() - n)));
    Vector error{};
    for (std::size_t k = 0; k < n; ++k) {
        Vector unit{};
        unit[k] = 1;
        error[k] = fit.scale * std::sqrt(solved(JJ, unit, n)[k]);
    }
    fit.across_mm.error = error[kAcross] * u.span_mm;
    fit.amount.error = error[kAmount] * fit.amount.value;
    fit.sigma_mm.error = error[kWidth] * fit.sigma_mm.value;
    fit.fan_width_mm.error = error[kWidth] * fit.fan_width_mm.value;
    if (u.has_taper()) fit.beta_across.error = error[kTaper] * (fit.beta_across.value - 1);
    if (u.laid == Laid::spot) {
        fit.along_mm.error = error[u.along()] * u.span_mm;
        if (u.has_taper()) {
            fit.fan_depth_mm.error = error[kDepth] * fit.fan_depth_mm.value;
            fit.beta_along.error = error[kTaperAlong] * (fit.beta_along.value - 1);
        }
    }
    const auto held = [](double taper) {
        return taper > 0 && (taper <= kLeastTaper * (1 + 1e-9) || taper >= kMostTaper * (1 - 1e-9));
    };
    fit.taper_held = held(fit.beta_across.value) || held(fit.beta_along.value);
    double squares = 0;
    for (std::size_t i = 0; i < here.size(); ++i) {
        const double um = here[i] * readings[i].error_um;
        squares += um * um;
    }
    fit.root_mean_square_um = std::sqrt(squares / static_cast<double>(here.size()));
    return fit;
}

}  // namespace

std::optional<GunFit> fitted_gun(std::span<const FilmReading> readings, Pattern pattern, Laid laid) {
    const Moments m = moments(readings);
    const Unknowns unknowns{pattern, laid, m.span};
    if (readings.size() < 2 * unknowns.count() || !(m.highest > 0) || !(m.span > 0)) return std::nullopt;
    const Problem problem(readings, unknowns);
    std::optional<Reached> best;
    for (const double taper : {2.0, 1.4, 3.5, 7.0}) {
        const Vector from = start(unknowns, m, taper);
        if (!sensible(unknowns, from)) continue;
        const Reached reached = descended(problem, from, kTrialSteps);
        if (std::isfinite(reached.chi2) && (!best || reached.chi2 < best->chi2)) best = reached;
        if (!unknowns.has_taper()) break;
    }
    if (!best) return std::nullopt;
    return with_errors(problem, descended(problem, best->v, kMostSteps), readings);
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
    if (fit.laid == Laid::spot) {
        gun.fan_depth = Millimetres{fit.fan_depth_mm.value};
        gun.beta_along = fit.beta_along.value;
    }
    return footprint_of(gun);
}

double wet_um(const GunFit& fit, const Footprint& footprint, double across_mm, double along_mm) noexcept {
    const double x = across_mm - fit.across_mm.value;
    const double share = fit.laid == Laid::pass ? pass_profile(footprint, x)
                                                : value_at(footprint, x, along_mm - fit.along_mm.value);
    return kMicrometresPerMillimetre * fit.amount.value * share;
}

}  // namespace fadewright::spray
