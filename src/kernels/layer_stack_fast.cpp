#include "fadewright/kernels/layer_stack_fast.h"

#include "exp2_fast.h"
#include "simd_clones.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <type_traits>

namespace fadewright::kernels::fast {
namespace {

// kMin_g replaces g where there is no absorption; its square does not underflow.
template <class Real>
struct RealLimits;

template <>
struct RealLimits<double> {
    static constexpr double kMin_g = 1e-150, kMaxFilm_um = 1e100;
};

template <>
struct RealLimits<float> {
    static constexpr float kMin_g = 1e-18f, kMaxFilm_um = 1e9f;
};

// An even film over one point, in all bands.
template <class Real>
[[gnu::always_inline]] inline void apply_film_in_bands(const Real* exponent_per_um, const Real* S_per_g,
                                                       const Real* one_minus_K_per_g, Real film_um,
                                                       Real* reflectance, std::size_t bands) {
    for (std::size_t i = 0; i < bands; ++i) {
        const Real ground = reflectance[i];
        const Real L =
            one_minus_exp2_neg(std::min(exponent_per_um[i] * film_um, Exp2Traits<Real>::kMaxExponent));
        const Real s = L * S_per_g[i];
        const Real V = (2 - L * one_minus_K_per_g[i]) + s * (1 - ground);
        const Real W = V + s * ground;
        reflectance[i] = std::min(Real(1), (s * V + (4 - 4 * L) * ground) / (W * V));
    }
}

// Adds, in all bands, the reflectance of a point under a given number of droplets, times the share that has
// it.
template <class Real>
[[gnu::always_inline]] inline void add_share_in(Real share, const Real* R0, const Real* T2,
                                                const Real* ground, Real* sum, std::size_t bands) {
    constexpr Real kTiny = std::numeric_limits<Real>::min();
    for (std::size_t i = 0; i < bands; ++i)
        sum[i] += share * (R0[i] + T2[i] * ground[i] / std::max(1 - R0[i] * ground[i], kTiny));
}

FW_SIMD_CLONES void apply_film_to_point(const double* exponent_per_um, const double* S_per_g,
                                        const double* one_minus_K_per_g, double film_um, double* reflectance,
                                        std::size_t bands) {
    apply_film_in_bands(exponent_per_um, S_per_g, one_minus_K_per_g, film_um, reflectance, bands);
}
FW_SIMD_CLONES void apply_film_to_point(const float* exponent_per_um, const float* S_per_g,
                                        const float* one_minus_K_per_g, float film_um, float* reflectance,
                                        std::size_t bands) {
    apply_film_in_bands(exponent_per_um, S_per_g, one_minus_K_per_g, film_um, reflectance, bands);
}
FW_SIMD_CLONES void add_share(double share, const double* R0, const double* T2, const double* ground,
                              double* sum, std::size_t bands) {
    add_share_in(share, R0, T2, ground, sum, bands);
}
FW_SIMD_CLONES void add_share(float share, const float* R0, const float* T2, const float* ground, float* sum,
                              std::size_t bands) {
    add_share_in(share, R0, T2, ground, sum, bands);
}

// With kMaxFastSplats droplets over a point on average, the share that has more than this is neglected.
constexpr std::size_t kMaxDroplets = 80;
// The same for coalescing dots, whose share is small at kMaxIsolatedSplats.
constexpr std::size_t kMaxCoalescingDroplets = 36;

std::size_t droplet_count(Laydown laydown) {
    return laydown == Laydown::dots        ? kMaxDroplets
           : laydown == Laydown::automatic ? kMaxCoalescingDroplets
                                           : 0;
}

}  // namespace

template <class Real>
Coat<Real>::Coat(Laydown laydown, double splat_um, std::span<const double> K, std::span<const double> S)
    : laydown_(splat_um > 0 ? laydown : Laydown::wet),
      splat_um_(splat_um),
      K_(K.begin(), K.end()),
      S_(S.begin(), S.end()) {
    const auto append = [](std::vector<Real>& list, double v) { list.push_back(static_cast<Real>(v)); };
    for (std::size_t band = 0; band < bands(); ++band) {
        const double absorbed_g = std::sqrt(K[band] * (K[band] + 2 * S[band]));
        const double g = std::max(absorbed_g, static_cast<double>(RealLimits<Real>::kMin_g));
        append(film_.exponent_per_um, 2 * g / kLn2);
        append(film_.S_per_g, S[band] / g);
        append(film_.one_minus_K_per_g, 1 - K[band] / g);
    }
    for (std::size_t k = 0; k < droplet_count(laydown_); ++k)
        for (std::size_t band = 0; band < bands(); ++band) {
            const TwoFlux flux = two_flux(K[band], S[band], static_cast<double>(k) * splat_um_);
            append(droplets_.R0, flux.R0);
            append(droplets_.T2, flux.T * flux.T);
        }
}

template <class Real>
void Coat<Real>::apply_film(double film_um, Real* reflectance) const {
    const auto X = static_cast<Real>(std::min(film_um, static_cast<double>(RealLimits<Real>::kMaxFilm_um)));
    apply_film_to_point(film_.exponent_per_um.data(), film_.S_per_g.data(), film_.one_minus_K_per_g.data(), X,
                        reflectance, bands());
}

// Poisson shares of a point, for 0, 1, 2 ... droplets, until the rest is negligible.
template <class Real>
void Coat<Real>::add_droplets(double mean, double weight, const Real* ground, std::vector<Real>& sum) const {
    constexpr double kRemainder = std::is_same_v<Real, double> ? 1e-10 : 1e-7;
    const std::size_t max_count = droplets_.R0.size() / bands();
    std::fill(sum.begin(), sum.end(), Real{0});
    double share = std::exp(-mean), remainder = 1;
    for (std::size_t k = 0; k < max_count && weight * remainder > kRemainder; ++k) {
        if (k > 0) share *= mean / static_cast<double>(k);
        remainder -= share;
        add_share(static_cast<Real>(share), droplets_.R0.data() + k * bands(),
                  droplets_.T2.data() + k * bands(), ground, sum.data(), bands());
    }
}

template <class Real>
void Coat<Real>::lay_dots_reference(double film_um, Real* reflectance) const {
    for (std::size_t band = 0; band < bands(); ++band) {
        double R = static_cast<double>(reflectance[band]);
        lay_dots({&film_um, 1}, splat_um_, K_[band], S_[band], {&R, 1});
        reflectance[band] = static_cast<Real>(R);
    }
}

template <class Real>
void Coat<Real>::lay(std::span<const double> film_um, std::span<Real> reflectance) const {
    std::vector<Real> dots(laydown_ == Laydown::wet ? 0 : bands());
    for (std::size_t point = 0; point < film_um.size(); ++point) {
        const double film = film_um[point];
        if (film <= 0) continue;
        Real* const point_reflectance = reflectance.data() + point * bands();
        const double mean = laydown_ == Laydown::wet ? 0 : film / splat_um_;
        if (laydown_ == Laydown::dots && mean <= kMaxFastSplats) {
            add_droplets(mean, 1, point_reflectance, dots);
            std::copy(dots.begin(), dots.end(), point_reflectance);
        } else if (laydown_ == Laydown::dots) {
            lay_dots_reference(film, point_reflectance);
        } else if (laydown_ == Laydown::automatic && mean < kMaxIsolatedSplats) {
            const double weight = std::exp(-mean);
            add_droplets(mean, weight, point_reflectance, dots);
            apply_film(film, point_reflectance);
            for (std::size_t band = 0; band < bands(); ++band)
                point_reflectance[band] += static_cast<Real>(weight) * (dots[band] - point_reflectance[band]);
        } else {
            apply_film(film, point_reflectance);
        }
    }
}

template class Coat<double>;
template class Coat<float>;

}  // namespace fadewright::kernels::fast
