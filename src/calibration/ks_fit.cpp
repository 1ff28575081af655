#include "fadewright/calibration/ks_fit.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/layer.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace fadewright::calibration {
namespace {

// One band of calibration/ks_fit.h: two unknowns, K and S, both at least 0.

struct BandReading {
    double film = 0, ground = 0, measured = 0, noise = 0;
    double share = 1, known_K = 0, known_S = 0;
};

struct KsPair {
    double K = 0, S = 0;
};

enum class Coefficient { K, S };

class BandProblem {
public:
    BandProblem(std::vector<BandReading> readings, film::SaundersonCorrection surface,
                film::Specular specular);

    [[nodiscard]] double predict(const BandReading& reading, KsPair p) const noexcept;
    [[nodiscard]] double chi2(KsPair p) const noexcept;

    [[nodiscard]] KsPair best_fit() const;  // over both
    [[nodiscard]] KsPair best_fit_with_S(double S, KsPair initial) const;

    // Standard errors by the linearised sum, and the values at which chi2 has risen by `rise` (times `scale`
    // squared).
    [[nodiscard]] Estimate estimate(Coefficient coefficient, KsPair best_fit, double scale,
                                    double rise) const;
    // An infinite film fits as well: S has no upper limit.
    [[nodiscard]] bool allows_opaque(KsPair best_fit, double rise) const;
    // The smallest S at which chi2, minimised over K, has risen by no more than `rise`.
    [[nodiscard]] double min_S(KsPair best_fit, double rise) const;

    // Adds the effect of an error of its ground to each reading's noise.
    void add_ground_noise(std::span<const double> ground_noise, KsPair at);

    [[nodiscard]] const std::vector<BandReading>& readings() const { return readings_; }

private:
    struct NormalEquations {
        double KK = 0, KS = 0, SS = 0;  // J'J
        double K = 0, S = 0;            // J'r
        double chi2 = 0;
    };
    enum class FreeCoefficients { both, K, S };

    [[nodiscard]] NormalEquations normal_equations(KsPair p) const noexcept;
    [[nodiscard]] KsPair minimise(KsPair p, FreeCoefficients free) const;
    [[nodiscard]] KsPair coarse_fit() const;
    [[nodiscard]] KsPair profile_point(Coefficient coefficient, double value, KsPair best_fit) const;
    [[nodiscard]] double lower_limit(Coefficient coefficient, KsPair best_fit, double limit) const;
    [[nodiscard]] double upper_limit(Coefficient coefficient, KsPair best_fit, double limit,
                                     double error) const;

    std::vector<BandReading> readings_;
    film::SaundersonCorrection surface_;
    film::Specular specular_;
    double typical_film_ = 1;  // geometric mean of the finite films
};

constexpr double kInfinite = std::numeric_limits<double>::infinity();

// The coarse grid, in powers of e of K X and S X.
constexpr int kGridSteps = 24;
constexpr double kGridLow = 1e-5, kGridHigh = 60;

// Beyond this K X or S X of a typical film every film is effectively infinite.
constexpr double kOpaqueDepth = 3e3;

// Step of the numerical derivatives, as a share of the coefficient or of a typical film's.
constexpr double kDerivativeStep = 1e-6, kMinCoefficientDepth = 1e-4;

constexpr int kMaxBandFitSteps = 200, kBisections = 14;

double coefficient_of(KsPair p, Coefficient coefficient) noexcept {
    return coefficient == Coefficient::K ? p.K : p.S;
}

BandProblem::BandProblem(std::vector<BandReading> readings, film::SaundersonCorrection surface,
                         film::Specular specular)
    : readings_(std::move(readings)), surface_(surface), specular_(specular) {
    double logs = 0, count = 0;
    for (const BandReading& r : readings_)
        if (r.film > 0 && std::isfinite(r.film)) {
            logs += std::log(r.film);
            count += 1;
        }
    if (count > 0) typical_film_ = std::exp(logs / count);
}

double BandProblem::predict(const BandReading& r, KsPair p) const noexcept {
    const double K = r.share * p.K + r.known_K, S = r.share * p.S + r.known_S;
    const double R = std::isfinite(r.film) ? film::reflectance_over(film::layer(K, S, r.film), r.ground)
                                           : film::r_infinity(K, S);
    return film::external_reflectance(surface_, R, specular_);
}

double BandProblem::chi2(KsPair p) const noexcept {
    double sum = 0;
    for (const BandReading& r : readings_) {
        const double residual = (predict(r, p) - r.measured) / r.noise;
        sum += residual * residual;
    }
    return sum;
}

BandProblem::NormalEquations BandProblem::normal_equations(KsPair p) const noexcept {
    const double step_K = kDerivativeStep * std::max(p.K, kMinCoefficientDepth / typical_film_);
    const double step_S = kDerivativeStep * std::max(p.S, kMinCoefficientDepth / typical_film_);
    NormalEquations n;
    for (const BandReading& r : readings_) {
        const double now = predict(r, p);
        const double residual = (now - r.measured) / r.noise;
        const double by_K = (predict(r, {p.K + step_K, p.S}) - now) / step_K / r.noise;
        const double by_S = (predict(r, {p.K, p.S + step_S}) - now) / step_S / r.noise;
        n.KK += by_K * by_K;
        n.KS += by_K * by_S;
        n.SS += by_S * by_S;
        n.K += by_K * residual;
        n.S += by_S * residual;
        n.chi2 += residual * residual;
    }
    return n;
}

// Damped steps; a coefficient at 0 whose gradient points below is clamped.
KsPair BandProblem::minimise(KsPair p, FreeCoefficients free) const {
    double damping = 1e-3;
    NormalEquations n = normal_equations(p);
    for (int step = 0; step < kMaxBandFitSteps && damping < 1e12; ++step) {
        const bool move_K = free != FreeCoefficients::S && !(p.K <= 0 && n.K > 0) && n.KK > 0;
        const bool move_S = free != FreeCoefficients::K && !(p.S <= 0 && n.S > 0) && n.SS > 0;
        if (!move_K && !move_S) break;
        const double KK = (1 + damping) * n.KK, SS = (1 + damping) * n.SS;
        KsPair d;
        if (move_K && move_S) {
            const double determinant = KK * SS - n.KS * n.KS;
            d = {-(SS * n.K - n.KS * n.S) / determinant, -(KK * n.S - n.KS * n.K) / determinant};
        } else {
            d = move_K ? KsPair{-n.K / KK, 0} : KsPair{0, -n.S / SS};
        }
        const KsPair candidate{std::max(0.0, p.K + d.K), std::max(0.0, p.S + d.S)};
        const double candidate_chi2 = chi2(candidate);
        if (!(candidate_chi2 < n.chi2)) {
            damping *= 10;
            continue;
        }
        const bool converged = std::abs(candidate.K - p.K) <= 1e-13 * candidate.K &&
                               std::abs(candidate.S - p.S) <= 1e-13 * candidate.S;
        p = candidate;
        if (converged) break;
        n = normal_equations(p);
        damping = std::max(damping / 10, 1e-12);
    }
    return p;
}

// K/S is often known far better than either, so that a plain grid finds any point that happens to be near
// that valley. Each S of the grid is therefore given its own best K before they are compared.
KsPair BandProblem::coarse_fit() const {
    const auto grid = [&](int i) {
        if (i < 0) return 0.0;
        return kGridLow * std::pow(kGridHigh / kGridLow, i / double{kGridSteps}) / typical_film_;
    };
    KsPair best_fit{0, 0};
    double min_chi2 = chi2(best_fit);
    for (int j = -1; j <= kGridSteps; ++j) {
        KsPair start{0, grid(j)};
        double start_sum = chi2(start);
        for (int i = 0; i <= kGridSteps; ++i) {
            const KsPair candidate{grid(i), grid(j)};
            const double sum = chi2(candidate);
            if (sum < start_sum) {
                start_sum = sum;
                start = candidate;
            }
        }
        const KsPair converged = minimise(start, FreeCoefficients::K);
        const double sum = chi2(converged);
        if (sum < min_chi2) {
            min_chi2 = sum;
            best_fit = converged;
        }
    }
    return best_fit;
}

KsPair BandProblem::best_fit() const { return minimise(coarse_fit(), FreeCoefficients::both); }

KsPair BandProblem::best_fit_with_S(double S, KsPair initial) const {
    return profile_point(Coefficient::S, S, initial);
}

// The other coefficient may have to follow far along the valley of constant K/S, or hardly: try both starts.
KsPair BandProblem::profile_point(Coefficient coefficient, double value, KsPair best_fit) const {
    const double ratio =
        coefficient_of(best_fit, coefficient) > 0 ? value / coefficient_of(best_fit, coefficient) : 1;
    const bool fix_K = coefficient == Coefficient::K;
    const auto start = [&](double factor) {
        return fix_K ? KsPair{value, factor * best_fit.S} : KsPair{factor * best_fit.K, value};
    };
    const FreeCoefficients free = fix_K ? FreeCoefficients::S : FreeCoefficients::K;
    const KsPair same = minimise(start(1), free), along = minimise(start(ratio), free);
    return chi2(along) < chi2(same) ? along : same;
}

double BandProblem::lower_limit(Coefficient coefficient, KsPair best_fit, double limit) const {
    const auto exceeds_limit = [&](double value) {
        return chi2(profile_point(coefficient, value, best_fit)) > limit;
    };
    double inside = coefficient_of(best_fit, coefficient);
    if (inside <= 0 || !exceeds_limit(0)) return 0;
    double outside = 0;
    for (double value = inside / 2; value * typical_film_ > kGridLow; value /= 2) {
        if (exceeds_limit(value)) {
            outside = value;
            break;
        }
        inside = value;
    }
    for (int i = 0; i < kBisections; ++i) {
        const double middle = (inside + outside) / 2;
        (exceeds_limit(middle) ? outside : inside) = middle;
    }
    return outside;
}

double BandProblem::upper_limit(Coefficient coefficient, KsPair best_fit, double limit, double error) const {
    const auto exceeds_limit = [&](double value) {
        return chi2(profile_point(coefficient, value, best_fit)) > limit;
    };
    const double opaque_depth = kOpaqueDepth / typical_film_;
    const double value = coefficient_of(best_fit, coefficient);
    if (value >= opaque_depth || !exceeds_limit(opaque_depth)) return kInfinite;
    double inside = value;
    double step =
        std::max({2 * (std::isfinite(error) ? error : value), 1e-6 * value, kGridLow / typical_film_});
    double outside = value + step;
    while (outside < opaque_depth && !exceeds_limit(outside)) {
        inside = outside;
        step *= 2;
        outside = value + step;
    }
    outside = std::min(outside, opaque_depth);
    for (int i = 0; i < kBisections; ++i) {
        const double middle = (inside + outside) / 2;
        (exceeds_limit(middle) ? outside : inside) = middle;
    }
    return outside;
}

bool BandProblem::allows_opaque(KsPair best_fit, double rise) const {
    const double opaque_depth = kOpaqueDepth / typical_film_;
    return chi2(profile_point(Coefficient::S, opaque_depth, best_fit)) <= chi2(best_fit) + rise;
}

Estimate BandProblem::estimate(Coefficient coefficient, KsPair best_fit, double scale, double rise) const {
    const NormalEquations n = normal_equations(best_fit);
    Estimate e;
    e.value = coefficient_of(best_fit, coefficient);
    const double determinant = n.KK * n.SS - n.KS * n.KS;
    const double other = coefficient == Coefficient::K ? n.SS : n.KK;
    // A determinant lost in rounding: the readings determine only one combination of K and S.
    const bool determined = determinant > 1e-10 * n.KK * n.SS && determinant > 0;
    e.error = determined ? scale * std::sqrt(other / determinant) : kInfinite;
    const double limit = n.chi2 + rise * scale * scale;
    e.low = lower_limit(coefficient, best_fit, limit);
    e.high = upper_limit(coefficient, best_fit, limit, e.error);
    return e;
}

double BandProblem::min_S(KsPair best_fit, double rise) const {
    return lower_limit(Coefficient::S, best_fit, chi2(best_fit) + rise);
}

void BandProblem::add_ground_noise(std::span<const double> ground_noise, KsPair at) {
    constexpr double kGroundStep = 1e-5;
    for (std::size_t i = 0; i < readings_.size(); ++i) {
        BandReading& r = readings_[i];
        if (ground_noise[i] <= 0 || !std::isfinite(r.film)) continue;
        BandReading shifted = r;
        shifted.ground += r.ground > 0.5 ? -kGroundStep : kGroundStep;
        const double by_ground = (predict(shifted, at) - predict(r, at)) / kGroundStep;
        r.noise = std::hypot(r.noise, by_ground * ground_noise[i]);
    }
}

using colour::kBandCount;

// Values beyond these are indistinguishable from black or from perfect white.
constexpr double kMinReflectance = 1e-4, kMaxReflectance = 1 - 1e-6;

BandProblem band_problem(std::span<const DrawdownReading> readings, std::size_t band,
                         film::SaundersonCorrection surface, film::Specular specular) {
    std::vector<BandReading> rows;
    rows.reserve(readings.size());
    for (const DrawdownReading& r : readings)
        rows.push_back({r.film.value, r.ground[band], r.measured[band], r.noise, r.share.value,
                        r.known_K[band], r.known_S[band]});
    return {std::move(rows), surface, specular};
}

// S interpolated in its logarithm between the nearest bands that determine theirs.
std::optional<double> S_of_neighbours(const std::array<BandFit, kBandCount>& bands, std::size_t band) {
    const auto has_S = [&](std::size_t i) { return !bands[i].S_extrapolated && bands[i].S.value > 0; };
    std::size_t below = band, above = band;
    while (below > 0 && !has_S(below)) --below;
    while (above + 1 < kBandCount && !has_S(above)) ++above;
    if (!has_S(below) && !has_S(above)) return std::nullopt;
    if (!has_S(below)) return bands[above].S.value;
    if (!has_S(above)) return bands[below].S.value;
    const double share = static_cast<double>(band - below) / static_cast<double>(above - below);
    return std::exp((1 - share) * std::log(bands[below].S.value) + share * std::log(bands[above].S.value));
}

// Bands that do not determine S take one from their neighbours that their readings allow.
void extrapolate_S(const std::vector<BandProblem>& problems, PaintFit& fit) {
    const auto fitted_bands = fit.bands;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        BandFit& b = fit.bands[band];
        if (!b.S_extrapolated) continue;
        const KsPair best{b.K.value, b.S.value};
        const double rise = fit.noise_scale * fit.noise_scale;
        const double min_S = problems[band].min_S(best, rise);
        const double S = std::max(min_S, S_of_neighbours(fitted_bands, band).value_or(min_S));
        const KsPair chosen = problems[band].best_fit_with_S(S, best);
        b.K.value = chosen.K;
        b.S.value = chosen.S;
    }
}

void add_residuals(const std::vector<BandProblem>& problems, PaintFit& fit) {
    const std::size_t count = problems.front().readings().size();
    fit.residuals.resize(count);
    double sum = 0;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const KsPair p{fit.K[band], fit.S[band]};
        for (std::size_t i = 0; i < count; ++i) {
            const BandReading& r = problems[band].readings()[i];
            fit.residuals[i][band] = r.measured - problems[band].predict(r, p);
            sum += fit.residuals[i][band] * fit.residuals[i][band];
        }
    }
    fit.rms_error = std::sqrt(sum / static_cast<double>(count * kBandCount));
}

}  // namespace

double Estimate::uncertainty() const noexcept {
    if (value <= 0) return high > 0 ? std::numeric_limits<double>::infinity() : 0;
    return std::max(high - value, value - low) / (2 * value);
}

PaintFit fit_ks(std::span<const DrawdownReading> readings, film::SaundersonCorrection surface,
                film::Specular specular, double rise) {
    FW_EXPECTS(!readings.empty());
    std::vector<double> ground_noise;
    for (const DrawdownReading& r : readings) {
        FW_EXPECTS(r.noise > 0 && r.film.value >= 0 && r.share.value > 0);
        const auto same_ground =
            std::count_if(readings.begin(), readings.end(),
                          [&](const DrawdownReading& other) { return other.ground == r.ground; });
        ground_noise.push_back(r.ground_noise * std::sqrt(static_cast<double>(same_ground)));
    }
    std::vector<BandProblem> problems;
    std::array<KsPair, kBandCount> best;
    double chi2 = 0;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        problems.push_back(band_problem(readings, band, surface, specular));
        BandProblem& problem = problems.back();
        problem.add_ground_noise(ground_noise, problem.best_fit());
        best[band] = problem.best_fit();
        chi2 += problem.chi2(best[band]);
    }
    PaintFit fit;
    if (readings.size() > 2)
        fit.noise_scale =
            std::max(1.0, std::sqrt(chi2 / static_cast<double>((readings.size() - 2) * kBandCount)));
    for (std::size_t band = 0; band < kBandCount; ++band) {
        BandFit& b = fit.bands[band];
        b.K = problems[band].estimate(Coefficient::K, best[band], fit.noise_scale, rise);
        b.S = problems[band].estimate(Coefficient::S, best[band], fit.noise_scale, rise);
        b.S_extrapolated =
            problems[band].allows_opaque(best[band], kOpaqueRise * fit.noise_scale * fit.noise_scale);
        if (b.S_extrapolated) b.K.high = b.S.high = std::numeric_limits<double>::infinity();
    }
    extrapolate_S(problems, fit);
    for (std::size_t band = 0; band < kBandCount; ++band) {
        fit.K[band] = fit.bands[band].K.value;
        fit.S[band] = fit.bands[band].S.value;
    }
    add_residuals(problems, fit);
    return fit;
}

std::optional<AbsorptionAndScatteringSpectra> ks_from_masstone(const colour::Reflectance& inside,
                                                               Micrometres hiding_film,
                                                               film::HidingChart chart,
                                                               film::SaundersonCorrection surface,
                                                               const colour::Spd& luminosity) {
    FW_EXPECTS(hiding_film.value > 0);
    paint::MixedPaint unit;  // S = 1, so that its hiding film is a pure number
    unit.S = colour::Scattering::constant(1);
    for (std::size_t band = 0; band < kBandCount; ++band)
        unit.K[band] = film::ks_ratio(std::clamp(inside[band], kMinReflectance, kMaxReflectance));
    const auto film = film::film_to_hide(unit, film::kFullHiding, chart, surface, luminosity);
    if (!film) return std::nullopt;
    const double S = *film / hiding_film;
    AbsorptionAndScatteringSpectra out;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        out.K[band] = unit.K[band] * S;
        out.S[band] = S;
    }
    return out;
}

}  // namespace fadewright::calibration
