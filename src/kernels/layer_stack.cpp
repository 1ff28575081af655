#include "fadewright/kernels/layer_stack.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace fadewright::kernels {
namespace {

// Below this, tanh(y)/y differs from 1 - y^2/3 by less than one rounding.
constexpr double kSmallDepth = 1e-4;

// Range of splats in the sum: beyond this many standard deviations on either side of the mean, and this many
// more splats on the high side where the Poisson tail is longer, the probability is below one rounding.
constexpr double kSigmas = 9;
constexpr double kTailMargin = 20;

struct SplatRange {
    std::size_t min;
    std::size_t max;
};

SplatRange significant_splats(double mean) noexcept {
    const double reach = kSigmas * std::sqrt(mean);
    return {static_cast<std::size_t>(std::max(0.0, std::floor(mean - reach))),
            static_cast<std::size_t>(std::ceil(mean + reach + kTailMargin))};
}

bool is_even_film(double film_um, double splat_um) noexcept { return film_um > kMaxSplats * splat_um; }

// Sum of P(k; mean) R(k splats): weights start at 1 on the most likely k and follow
// P(k+1) = P(k) mean/(k+1) both ways, which neither overflows nor underflows; divided by their sum they are
// shares.
double dots_over_ground(const std::vector<TwoFlux>& splats, double mean, double ground) noexcept {
    const SplatRange range = significant_splats(mean);
    const std::size_t mode = static_cast<std::size_t>(mean);
    double weights = 0;
    double sum = 0;
    double weight = 1;
    for (std::size_t k = mode; k <= range.max; ++k) {
        weights += weight;
        sum += weight * over_ground(splats[k], ground);
        weight *= mean / static_cast<double>(k + 1);
    }
    weight = 1;
    for (std::size_t k = mode; k > range.min; --k) {
        weight *= static_cast<double>(k) / mean;
        weights += weight;
        sum += weight * over_ground(splats[k - 1], ground);
    }
    return sum / weights;
}

}  // namespace

// The hyperbolic solution divided by cosh, with g = sqrt(K (K + 2S)) and q = tanh(gX)/g. It needs no
// a = 1 + K/S, so neither S = 0 nor K = 0 is special, and exp of a negative number cannot overflow.
TwoFlux two_flux(double K, double S, double film_um) noexcept {
    const double X = film_um;
    const double g = std::sqrt(K * (K + 2 * S));
    const double y = g * X;
    const double e = std::exp(-y);
    const double q = y < kSmallDepth ? X * (1 - y * y / 3) : -std::expm1(-2 * y) / (1 + e * e) / g;
    const double D = 1 + (K + S) * q;
    return {S * q / D, 2 * e / (1 + e * e) / D};
}

double over_ground(TwoFlux film, double ground) noexcept {
    const double denominator = 1 - film.R0 * ground;
    if (denominator <= 0) return 1;  // a perfect white over a perfect white
    return std::min(1.0, film.R0 + film.T * film.T * ground / denominator);  // rounding must not exceed 1
}

void lay_coat(std::span<const double> film_um, double K, double S, std::span<double> reflectance) {
    for (std::size_t i = 0; i < reflectance.size(); ++i)
        reflectance[i] = over_ground(two_flux(K, S, film_um[i]), reflectance[i]);
}

void lay_dots(std::span<const double> film_um, double splat_um, double K, double S,
              std::span<double> reflectance) {
    double max_film_um = 0;
    for (const double film : film_um)
        if (!is_even_film(film, splat_um)) max_film_um = std::max(max_film_um, film);

    std::vector<TwoFlux> splats;
    if (max_film_um > 0) {
        const std::size_t max_count = significant_splats(max_film_um / splat_um).max;
        splats.reserve(max_count + 1);
        for (std::size_t k = 0; k <= max_count; ++k)
            splats.push_back(two_flux(K, S, static_cast<double>(k) * splat_um));
    }
    for (std::size_t i = 0; i < reflectance.size(); ++i) {
        const double film = film_um[i];
        if (film <= 0) continue;
        reflectance[i] = is_even_film(film, splat_um)
                             ? over_ground(two_flux(K, S, film), reflectance[i])
                             : dots_over_ground(splats, film / splat_um, reflectance[i]);
    }
}

void lay_coalescing_dots(std::span<const double> film_um, double splat_um, double K, double S,
                         std::span<double> reflectance) {
    if (splat_um <= 0) return lay_coat(film_um, K, S, reflectance);
    std::vector<std::size_t> dotted;
    std::vector<double> films, dots;
    for (std::size_t i = 0; i < reflectance.size(); ++i)
        if (film_um[i] < kMaxIsolatedSplats * splat_um) {
            dotted.push_back(i);
            films.push_back(film_um[i]);
            dots.push_back(reflectance[i]);
        }
    lay_coat(film_um, K, S, reflectance);
    lay_dots(films, splat_um, K, S, dots);
    for (std::size_t k = 0; k < dotted.size(); ++k) {
        double& film = reflectance[dotted[k]];
        film += std::exp(-films[k] / splat_um) * (dots[k] - film);
    }
}

}  // namespace fadewright::kernels
