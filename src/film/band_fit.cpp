#include "band_fit.h"

#include "fadewright/film/layer.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::film {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

// The coarse grid, in powers of e of K X and S X.
constexpr int kGridSteps = 24;
constexpr double kGridLow = 1e-5, kGridHigh = 60;

// Beyond this many typical films' worth of K X or S X every film is as good as endless.
constexpr double kEndless = 3e3;

// Step of the numerical derivatives, as a share of the coefficient or of a typical film's.
constexpr double kDerivativeStep = 1e-6, kSmallest = 1e-4;

constexpr int kMostSteps = 200, kHalvings = 14;

double get(Pair p, Coefficient which) noexcept { return which == Coefficient::K ? p.K : p.S; }

}  // namespace

BandProblem::BandProblem(std::vector<BandReading> readings, Skin skin, Specular specular)
    : readings_(std::move(readings)), skin_(skin), specular_(specular) {
    double logs = 0, count = 0;
    for (const BandReading& r : readings_)
        if (r.film > 0 && std::isfinite(r.film)) {
            logs += std::log(r.film);
            count += 1;
        }
    if (count > 0) typical_film_ = std::exp(logs / count);
}

double BandProblem::predicted(const BandReading& r, Pair p) const noexcept {
    const double K = r.share * p.K + r.known_K, S = r.share * p.S + r.known_S;
    const double R = std::isfinite(r.film) ? over(layer(K, S, r.film), r.ground) : thick(K, S);
    return measured(skin_, R, specular_);
}

double BandProblem::chi2(Pair p) const noexcept {
    double sum = 0;
    for (const BandReading& r : readings_) {
        const double miss = (predicted(r, p) - r.seen) / r.noise;
        sum += miss * miss;
    }
    return sum;
}

BandProblem::Normal BandProblem::normal(Pair p) const noexcept {
    const double step_K = kDerivativeStep * std::max(p.K, kSmallest / typical_film_);
    const double step_S = kDerivativeStep * std::max(p.S, kSmallest / typical_film_);
    Normal n;
    for (const BandReading& r : readings_) {
        const double now = predicted(r, p);
        const double miss = (now - r.seen) / r.noise;
        const double by_K = (predicted(r, {p.K + step_K, p.S}) - now) / step_K / r.noise;
        const double by_S = (predicted(r, {p.K, p.S + step_S}) - now) / step_S / r.noise;
        n.KK += by_K * by_K;
        n.KS += by_K * by_S;
        n.SS += by_S * by_S;
        n.K += by_K * miss;
        n.S += by_S * miss;
        n.chi2 += miss * miss;
    }
    return n;
}

// Damped steps; a coefficient that stands at 0 and wants to go below is held there.
Pair BandProblem::minimum(Pair p, Free free) const {
    double damping = 1e-3;
    Normal n = normal(p);
    for (int step = 0; step < kMostSteps && damping < 1e12; ++step) {
        const bool move_K = free != Free::S && !(p.K <= 0 && n.K > 0) && n.KK > 0;
        const bool move_S = free != Free::K && !(p.S <= 0 && n.S > 0) && n.SS > 0;
        if (!move_K && !move_S) break;
        const double KK = (1 + damping) * n.KK, SS = (1 + damping) * n.SS;
        Pair d;
        if (move_K && move_S) {
            const double determinant = KK * SS - n.KS * n.KS;
            d = {-(SS * n.K - n.KS * n.S) / determinant, -(KK * n.S - n.KS * n.K) / determinant};
        } else {
            d = move_K ? Pair{-n.K / KK, 0} : Pair{0, -n.S / SS};
        }
        const Pair tried{std::max(0.0, p.K + d.K), std::max(0.0, p.S + d.S)};
        const double chi2_tried = chi2(tried);
        if (!(chi2_tried < n.chi2)) {
            damping *= 10;
            continue;
        }
        const bool settled =
            std::abs(tried.K - p.K) <= 1e-13 * tried.K && std::abs(tried.S - p.S) <= 1e-13 * tried.S;
        p = tried;
        if (settled) break;
        n = normal(p);
        damping = std::max(damping / 10, 1e-12);
    }
    return p;
}

// K/S is often known far better than either, so that a plain grid finds whichever point happens to lie near
// that ridge. Each S of the grid is therefore given its own best K before they are compared.
Pair BandProblem::coarse_best() const {
    const auto grid = [&](int i) {
        if (i < 0) return 0.0;
        return kGridLow * std::pow(kGridHigh / kGridLow, i / double{kGridSteps}) / typical_film_;
    };
    Pair best{0, 0};
    double least = chi2(best);
    for (int j = -1; j <= kGridSteps; ++j) {
        Pair start{0, grid(j)};
        double start_sum = chi2(start);
        for (int i = 0; i <= kGridSteps; ++i) {
            const Pair tried{grid(i), grid(j)};
            const double sum = chi2(tried);
            if (sum < start_sum) {
                start_sum = sum;
                start = tried;
            }
        }
        const Pair settled = minimum(start, Free::K);
        const double sum = chi2(settled);
        if (sum < least) {
            least = sum;
            best = settled;
        }
    }
    return best;
}

Pair BandProblem::best() const { return minimum(coarse_best(), Free::both); }

Pair BandProblem::best_with_S(double S, Pair near) const { return profile_point(Coefficient::S, S, near); }

// The other coefficient may have to follow far along the ridge of even K/S, or hardly at all: both starts.
Pair BandProblem::profile_point(Coefficient which, double value, Pair best) const {
    const double ratio = get(best, which) > 0 ? value / get(best, which) : 1;
    const bool fix_K = which == Coefficient::K;
    const auto start = [&](double factor) {
        return fix_K ? Pair{value, factor * best.S} : Pair{factor * best.K, value};
    };
    const Free free = fix_K ? Free::S : Free::K;
    const Pair same = minimum(start(1), free), along = minimum(start(ratio), free);
    return chi2(along) < chi2(same) ? along : same;
}

double BandProblem::lower_edge(Coefficient which, Pair best, double limit) const {
    const auto rises = [&](double value) { return chi2(profile_point(which, value, best)) > limit; };
    double inside = get(best, which);
    if (inside <= 0 || !rises(0)) return 0;
    double outside = 0;
    for (double value = inside / 2; value * typical_film_ > kGridLow; value /= 2) {
        if (rises(value)) {
            outside = value;
            break;
        }
        inside = value;
    }
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = (inside + outside) / 2;
        (rises(middle) ? outside : inside) = middle;
    }
    return outside;
}

double BandProblem::upper_edge(Coefficient which, Pair best, double limit, double error) const {
    const auto rises = [&](double value) { return chi2(profile_point(which, value, best)) > limit; };
    const double endless = kEndless / typical_film_;
    const double value = get(best, which);
    if (value >= endless || !rises(endless)) return kInfinite;
    double inside = value;
    double step =
        std::max({2 * (std::isfinite(error) ? error : value), 1e-6 * value, kGridLow / typical_film_});
    double outside = value + step;
    while (outside < endless && !rises(outside)) {
        inside = outside;
        step *= 2;
        outside = value + step;
    }
    outside = std::min(outside, endless);
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = (inside + outside) / 2;
        (rises(middle) ? outside : inside) = middle;
    }
    return outside;
}

bool BandProblem::may_hide(Pair best, double rise) const {
    const double endless = kEndless / typical_film_;
    return chi2(profile_point(Coefficient::S, endless, best)) <= chi2(best) + rise;
}

Estimate BandProblem::estimate(Coefficient which, Pair best, double scale, double rise) const {
    const Normal n = normal(best);
    Estimate e;
    e.value = get(best, which);
    const double determinant = n.KK * n.SS - n.KS * n.KS;
    const double other = which == Coefficient::K ? n.SS : n.KK;
    // A determinant lost in rounding means that only one mixture of K and S was read.
    const bool told = determinant > 1e-10 * n.KK * n.SS && determinant > 0;
    e.error = told ? scale * std::sqrt(other / determinant) : kInfinite;
    const double limit = n.chi2 + rise * scale * scale;
    e.low = lower_edge(which, best, limit);
    e.high = upper_edge(which, best, limit, e.error);
    return e;
}

double BandProblem::weakest_S(Pair best, double rise) const {
    return lower_edge(Coefficient::S, best, chi2(best) + rise);
}

void BandProblem::add_ground_noise(std::span<const double> ground_noise, Pair at) {
    constexpr double kGroundStep = 1e-5;
    for (std::size_t i = 0; i < readings_.size(); ++i) {
        BandReading& r = readings_[i];
        if (ground_noise[i] <= 0 || !std::isfinite(r.film)) continue;
        BandReading moved = r;
        moved.ground += r.ground > 0.5 ? -kGroundStep : kGroundStep;
        const double by_ground = (predicted(moved, at) - predicted(r, at)) / kGroundStep;
        r.noise = std::hypot(r.noise, by_ground * ground_noise[i]);
    }
}

}  // namespace fadewright::film
