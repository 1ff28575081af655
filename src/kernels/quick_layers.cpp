#include "fadewright/kernels/quick_layers.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>

// The same arithmetic, without contraction, four doubles at a time where the machine has them.
#if defined(__x86_64__)
#define FW_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define FW_WIDE
#endif

namespace fadewright::kernels::quick {
namespace {

// Below this depth q = 2X (1 - X^2 g^2/3 ...) leaves its series by less than one rounding.
constexpr double kSmallDepth = 1e-4;
// exp(-700) is still a normal number, and nothing comes back from so deep.
constexpr double kDeepest = 700;
// What droplets beyond those that are summed could change at most.
constexpr double kUnsummed = 1e-10;

// exp(-y) - 1 for y from 0 to kDeepest. Adding kRound and taking it away rounds to whole numbers, and leaves them
// in the lowest bits, where the power of two is made from.
inline double expm1_of_minus(double y) {
    constexpr double kRound = 0x1.8p52, kLog2e = 1.4426950408889634;
    constexpr double kLn2High = 0x1.62e42fefa38p-1, kLn2Low = 0x1.ef35793c7673p-45;
    const double shifted = -y * kLog2e + kRound;
    const double n = shifted - kRound;
    const double r = (-y - n * kLn2High) - n * kLn2Low;
    double p = 1.0 / 6227020800.0;
    p = p * r + 1.0 / 479001600.0;
    p = p * r + 1.0 / 39916800.0;
    p = p * r + 1.0 / 3628800.0;
    p = p * r + 1.0 / 362880.0;
    p = p * r + 1.0 / 40320.0;
    p = p * r + 1.0 / 5040.0;
    p = p * r + 1.0 / 720.0;
    p = p * r + 1.0 / 120.0;
    p = p * r + 1.0 / 24.0;
    p = p * r + 1.0 / 6.0;
    p = p * r + 0.5;
    p = p * r * r + r;
    const double power = std::bit_cast<double>((std::bit_cast<std::uint64_t>(shifted) + 1023) << 52);
    return power * p + (power - 1);
}

FW_WIDE void lay_band(const double* film_um, double K, double S, double* reflectance, std::size_t count) {
    const double g = std::sqrt(K * (K + 2 * S));
    const double per_g = g > 0 ? 1 / g : 0;
    for (std::size_t i = 0; i < count; ++i) {
        const double X = film_um[i], ground = reflectance[i];
        const double y = std::min(g * X, kDeepest);
        const double less = expm1_of_minus(y);
        const double e = 1 + less;
        const double q_deep = -less * (2 + less) * per_g;
        const double q_thin = X * (1 - y * y / 3) * (1 + e * e);
        const double q = y < kSmallDepth ? q_thin : q_deep;
        const double V = 1 + e * e + K * q + S * q * (1 - ground);
        const double W = V + S * q * ground;
        reflectance[i] = std::min(1.0, (S * q * V + 4 * e * e * ground) / (W * V));
    }
}

// Adds what is seen where k droplets lie, by the share of the point that has k.
FW_WIDE void add_droplets(const double* share, TwoFlux splats, const double* ground, double* sum,
                          std::size_t count) {
    const double R0 = splats.R0, T2 = splats.T * splats.T;
    for (std::size_t i = 0; i < count; ++i)
        sum[i] += share[i] * (R0 + T2 * ground[i] / std::max(1 - R0 * ground[i], 1e-300));
}

constexpr std::size_t kGroup = 64;  // points summed together
// Of this many droplets over a point with kQuickSplats on average the share is below kUnsummed.
constexpr std::size_t kMostDroplets = 80;
constexpr std::size_t kMostLanded = 36;  // the same where droplets weigh as little as they do at kLastDots

}  // namespace

// Points that are summed alike, ordered by film so that thin ones need not wait for thick ones.
struct Coat::Dotted {
    std::vector<std::size_t> points;
    std::vector<double> splats;  // mean number over each
    std::vector<double> weight;  // how much of the point's colour is the droplets'

    void order(std::span<const double> film_um, double splat_um) {
        std::stable_sort(points.begin(), points.end(),
                         [&](std::size_t a, std::size_t b) { return film_um[a] < film_um[b]; });
        for (const std::size_t i : points) splats.push_back(film_um[i] / splat_um);
    }
};

namespace {

// Poisson shares of a group, one number of droplets after the other, until what is left of every point could
// change nothing.
std::vector<std::vector<double>> shares_of(std::span<const double> splats, std::span<const double> weight,
                                           std::size_t droplets) {
    std::vector<std::vector<double>> shares;
    std::vector<double> share, left(splats.size(), 1.0);
    for (const double mean : splats) share.push_back(std::exp(-mean));
    double most = 1;
    for (std::size_t k = 0; most > kUnsummed && k < droplets; ++k) {
        most = 0;
        for (std::size_t i = 0; i < splats.size(); ++i) {
            // Each point ends by itself, whatever its neighbours still need.
            if (weight[i] * left[i] <= kUnsummed)
                share[i] = 0;
            else if (k > 0)
                share[i] *= splats[i] / static_cast<double>(k);
            left[i] -= share[i];
            most = std::max(most, weight[i] * left[i]);
        }
        shares.push_back(share);
    }
    return shares;
}

}  // namespace

Coat::Coat(Drying drying, double splat_um, std::span<const double> K, std::span<const double> S)
    : drying_(splat_um > 0 ? drying : Drying::film),
      splat_um_(splat_um),
      K_(K.begin(), K.end()),
      S_(S.begin(), S.end()) {
    if (drying_ == Drying::film) return;
    const std::size_t most = drying_ == Drying::fog ? kMostDroplets : kMostLanded;
    splats_.reserve(most * K_.size());
    for (std::size_t k = 0; k < most; ++k)
        for (std::size_t band = 0; band < K_.size(); ++band)
            splats_.push_back(two_flux(K_[band], S_[band], static_cast<double>(k) * splat_um_));
}

void Coat::lay(std::span<const double> film_um, std::span<double> reflectance) const {
    if (drying_ == Drying::film) return lay_film(film_um, reflectance);
    if (drying_ == Drying::fog) return lay_fog(film_um, reflectance);
    lay_as_it_lands(film_um, reflectance);
}

// Turns what the points look like towards droplets on the ground, by their weights.
void Coat::lay_droplets(const Dotted& dotted, std::size_t count, std::span<const double> ground,
                        std::span<double> reflectance) const {
    for (std::size_t first = 0; first < dotted.points.size(); first += kGroup) {
        const std::size_t size = std::min(kGroup, dotted.points.size() - first);
        const std::span<const double> weight = std::span(dotted.weight).subspan(first, size);
        const auto shares =
            shares_of(std::span(dotted.splats).subspan(first, size), weight, splats_.size() / K_.size());
        std::vector<double> below(size), sum(size);
        for (std::size_t band = 0; band < K_.size(); ++band) {
            for (std::size_t i = 0; i < size; ++i) below[i] = ground[band * count + dotted.points[first + i]];
            std::fill(sum.begin(), sum.end(), 0.0);
            for (std::size_t k = 0; k < shares.size(); ++k)
                add_droplets(shares[k].data(), splats_[k * K_.size() + band], below.data(), sum.data(), size);
            for (std::size_t i = 0; i < size; ++i) {
                double& film = reflectance[band * count + dotted.points[first + i]];
                film += weight[i] * (sum[i] - film);
            }
        }
    }
}

void Coat::lay_film(std::span<const double> film_um, std::span<double> reflectance) const {
    const std::size_t count = film_um.size();
    for (std::size_t band = 0; band < K_.size(); ++band)
        lay_band(film_um.data(), K_[band], S_[band], reflectance.data() + band * count, count);
}

void Coat::lay_fog(std::span<const double> film_um, std::span<double> reflectance) const {
    const std::size_t count = film_um.size();
    Dotted dotted;
    for (std::size_t i = 0; i < count; ++i) {
        if (film_um[i] <= 0) continue;
        if (film_um[i] <= kQuickSplats * splat_um_) {
            dotted.points.push_back(i);
            continue;
        }
        for (std::size_t band = 0; band < K_.size(); ++band)
            kernels::lay_fog(film_um.subspan(i, 1), splat_um_, K_[band], S_[band],
                             reflectance.subspan(band * count + i, 1));
    }
    dotted.order(film_um, splat_um_);
    dotted.weight.assign(dotted.points.size(), 1.0);
    const std::vector<double> ground(reflectance.begin(), reflectance.end());
    lay_droplets(dotted, count, ground, reflectance);
}

void Coat::lay_as_it_lands(std::span<const double> film_um, std::span<double> reflectance) const {
    const std::size_t count = film_um.size();
    Dotted dotted;
    for (std::size_t i = 0; i < count; ++i)
        if (film_um[i] > 0 && film_um[i] < kLastDots * splat_um_) dotted.points.push_back(i);
    std::vector<double> ground;
    if (!dotted.points.empty()) ground.assign(reflectance.begin(), reflectance.end());
    lay_film(film_um, reflectance);
    dotted.order(film_um, splat_um_);
    for (const double splats : dotted.splats) dotted.weight.push_back(std::exp(-splats));
    lay_droplets(dotted, count, ground, reflectance);
}

}  // namespace fadewright::kernels::quick
