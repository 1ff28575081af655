#include "fadewright/kernels/quick_layers.h"

#include "wide.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <type_traits>

namespace fadewright::kernels::quick {
namespace {

// What one kind of number needs to know. kSmallDepth: below it q = 2X (1 - g^2 X^2/3 ...) leaves its series by less
// than one rounding. kDeepest: exp of minus that is still a normal number, and nothing comes back from so deep.
// kRound: adding it and taking it away rounds to whole numbers, and leaves them in the lowest bits. kTerms: of the
// series of exp that count.
template <class Real>
struct Numbers;

template <>
struct Numbers<double> {
    using Bits = std::uint64_t;
    static constexpr double kSmallDepth = 1e-4, kDeepest = 700, kThickest_um = 1e300, kRound = 0x1.8p52;
    static constexpr double kLn2High = 0x1.62e42fefa38p-1, kLn2Low = 0x1.ef35793c7673p-45;
    static constexpr int kTerms = 13, kMantissa = 52;
    static constexpr Bits kBias = 1023;
};

template <>
struct Numbers<float> {
    using Bits = std::uint32_t;
    static constexpr float kSmallDepth = 1e-3f, kDeepest = 80, kThickest_um = 1e9f, kRound = 0x1.8p23f;
    static constexpr float kLn2High = 0x1.63p-1f, kLn2Low = -0x1.bd0106p-13f;
    static constexpr int kTerms = 7, kMantissa = 23;
    static constexpr Bits kBias = 127;
};

template <class Real>
[[gnu::always_inline]] inline Real expm1_of_minus(Real y) {
    using N = Numbers<Real>;
    const Real shifted = -y * static_cast<Real>(1.4426950408889634) + N::kRound;
    const Real n = shifted - N::kRound;
    const Real r = (-y - n * N::kLn2High) - n * N::kLn2Low;
    constexpr double kFactorials[] = {1,    1,     2,      6,       24,       120,       720,
                                      5040, 40320, 362880, 3628800, 39916800, 479001600, 6227020800};
    Real p = static_cast<Real>(1 / kFactorials[N::kTerms]);
#pragma GCC unroll 16
    for (int k = N::kTerms - 1; k > 1; --k) p = p * r + static_cast<Real>(1 / kFactorials[k]);
    p = p * r * r + r;
    const auto bits = std::bit_cast<typename N::Bits>(shifted);
    const Real power = std::bit_cast<Real>((bits + N::kBias) << N::kMantissa);
    return power * p + (power - 1);
}

// An even film over one point, in all bands.
template <class Real>
[[gnu::always_inline]] inline void lay_film_in(const Coat::Paint<Real>& paint, double film_um,
                                               double* reflectance, std::size_t bands) {
    using N = Numbers<Real>;
    const Real X = static_cast<Real>(std::min(film_um, static_cast<double>(N::kThickest_um)));
    const Real *K = paint.K.data(), *S = paint.S.data(), *g = paint.g.data(), *per_g = paint.per_g.data();
    for (std::size_t i = 0; i < bands; ++i) {
        const Real ground = static_cast<Real>(reflectance[i]);
        const Real y = std::min(g[i] * X, N::kDeepest);
        const Real less = expm1_of_minus(y);
        const Real e = 1 + less;
        const Real q_deep = -less * (2 + less) * per_g[i];
        const Real q_thin = X * (1 - y * y / 3) * (1 + e * e);
        const Real q = y < N::kSmallDepth ? q_thin : q_deep;
        const Real V = 1 + e * e + K[i] * q + S[i] * q * (1 - ground);
        const Real W = V + S[i] * q * ground;
        reflectance[i] =
            static_cast<double>(std::min(Real(1), (S[i] * q * V + 4 * e * e * ground) / (W * V)));
    }
}

// What is seen in all bands where so many droplets lie over a point, times the share of it that has so many.
template <class Real>
[[gnu::always_inline]] inline void add_share_in(Real share, const Real* R0, const Real* T2,
                                                const double* ground, Real* sum, std::size_t bands) {
    constexpr Real kLeast = std::numeric_limits<Real>::min();
    for (std::size_t i = 0; i < bands; ++i) {
        const Real below = static_cast<Real>(ground[i]);
        sum[i] += share * (R0[i] + T2[i] * below / std::max(1 - R0[i] * below, kLeast));
    }
}

FW_WIDE void lay_film(const Coat::Paint<double>& paint, double film_um, double* reflectance,
                      std::size_t bands) {
    lay_film_in(paint, film_um, reflectance, bands);
}
FW_WIDE void lay_film(const Coat::Paint<float>& paint, double film_um, double* reflectance,
                      std::size_t bands) {
    lay_film_in(paint, film_um, reflectance, bands);
}
FW_WIDE void add_share(double share, const double* R0, const double* T2, const double* ground, double* sum,
                       std::size_t bands) {
    add_share_in(share, R0, T2, ground, sum, bands);
}
FW_WIDE void add_share(float share, const float* R0, const float* T2, const double* ground, float* sum,
                       std::size_t bands) {
    add_share_in(share, R0, T2, ground, sum, bands);
}

// Of this many droplets over a point with kQuickSplats on average the share is below what is left unsummed.
constexpr std::size_t kMostDroplets = 80;
constexpr std::size_t kMostLanded = 36;  // the same where droplets weigh as little as they do at kLastDots

// Poisson shares of a point, one number of droplets after the other, until what is left could change nothing.
template <class Real>
void add_droplets(const Coat::Paint<Real>& paint, double mean, double weight, const double* ground,
                  std::vector<Real>& sum) {
    constexpr double kUnsummed = std::is_same_v<Real, double> ? 1e-10 : 1e-7;
    const std::size_t bands = paint.K.size(), most = paint.R0.size() / bands;
    std::fill(sum.begin(), sum.end(), Real{0});
    double share = std::exp(-mean), left = 1;
    for (std::size_t k = 0; k < most && weight * left > kUnsummed; ++k) {
        if (k > 0) share *= mean / static_cast<double>(k);
        left -= share;
        add_share(static_cast<Real>(share), paint.R0.data() + k * bands, paint.T2.data() + k * bands, ground,
                  sum.data(), bands);
    }
}

std::size_t droplets_of(Drying drying) {
    return drying == Drying::fog ? kMostDroplets : drying == Drying::as_it_lands ? kMostLanded : 0;
}

template <class Real>
Coat::Paint<Real> paint_of(Drying drying, double splat_um, std::span<const double> K,
                           std::span<const double> S) {
    Coat::Paint<Real> out;
    for (std::size_t band = 0; band < K.size(); ++band) {
        const double g = std::sqrt(K[band] * (K[band] + 2 * S[band]));
        out.K.push_back(static_cast<Real>(K[band]));
        out.S.push_back(static_cast<Real>(S[band]));
        out.g.push_back(static_cast<Real>(g));
        out.per_g.push_back(g > 0 ? static_cast<Real>(1 / g) : 0);
    }
    for (std::size_t k = 0; k < droplets_of(drying); ++k)
        for (std::size_t band = 0; band < K.size(); ++band) {
            const TwoFlux flux = two_flux(K[band], S[band], static_cast<double>(k) * splat_um);
            out.R0.push_back(static_cast<Real>(flux.R0));
            out.T2.push_back(static_cast<Real>(flux.T * flux.T));
        }
    return out;
}

}  // namespace

Coat::Coat(Drying drying, double splat_um, std::span<const double> K, std::span<const double> S,
           Precision precision)
    : drying_(splat_um > 0 ? drying : Drying::film),
      splat_um_(splat_um),
      K_(K.begin(), K.end()),
      S_(S.begin(), S.end()) {
    if (precision == Precision::fine)
        paint_ = paint_of<double>(drying_, splat_um_, K, S);
    else
        paint_ = paint_of<float>(drying_, splat_um_, K, S);
}

std::size_t Coat::bands() const { return K_.size(); }

template <class Real>
void Coat::lay_with(const Paint<Real>& paint, std::span<const double> film_um,
                    std::span<double> reflectance) const {
    std::vector<Real> dots(bands());
    for (std::size_t point = 0; point < film_um.size(); ++point) {
        const double film = film_um[point];
        if (film <= 0) continue;
        double* const of_point = reflectance.data() + point * bands();
        const double mean = drying_ == Drying::film ? 0 : film / splat_um_;
        if (drying_ == Drying::fog && mean <= kQuickSplats) {
            add_droplets(paint, mean, 1, of_point, dots);
            std::copy(dots.begin(), dots.end(), of_point);
        } else if (drying_ == Drying::fog) {
            for (std::size_t band = 0; band < bands(); ++band)
                kernels::lay_fog({&film, 1}, splat_um_, K_[band], S_[band], {of_point + band, 1});
        } else if (drying_ == Drying::as_it_lands && mean < kLastDots) {
            const double weight = std::exp(-mean);
            add_droplets(paint, mean, weight, of_point, dots);
            lay_film(paint, film, of_point, bands());
            for (std::size_t band = 0; band < bands(); ++band)
                of_point[band] += weight * (static_cast<double>(dots[band]) - of_point[band]);
        } else {
            lay_film(paint, film, of_point, bands());
        }
    }
}

void Coat::lay(std::span<const double> film_um, std::span<double> reflectance) const {
    std::visit([&](const auto& paint) { lay_with(paint, film_um, reflectance); }, paint_);
}

}  // namespace fadewright::kernels::quick
