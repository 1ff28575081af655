#include "fadewright/film/hiding.h"

#include "fadewright/film/stack.h"

#include <algorithm>
#include <cmath>

namespace fadewright::film {
namespace {

// Readings whose film would reflect up to this much more than it received are taken as rounding.
constexpr double kRounding = 1e-9;

// Below this sinh(y)/y equals its series 1 + y^2/6 to rounding.
constexpr double kThinScatteringDepth = 1e-4;

// Smallest x in (0, highest] with reaches(x), for a monotonic `reaches`; by doubling from
// `first`, then halving the bracket until it is one rounding wide.
template <class Reaches>
std::optional<double> smallest_reaching(double first, double highest, Reaches reaches) noexcept {
    double low = 0;
    double high = std::min(first, highest);
    while (!reaches(high)) {
        if (high >= highest) return std::nullopt;
        low = high;
        high = std::min(2 * high, highest);
    }
    for (;;) {
        const double middle = low + (high - low) / 2;
        if (middle <= low || middle >= high) return high;
        (reaches(middle) ? high : low) = middle;
    }
}

template <class Ratio>
std::optional<Micrometres> min_film(double target_ratio, Ratio ratio) {
    constexpr double first_um = 0.1;
    const auto film_um =
        smallest_reaching(first_um, kMaxFilm_um, [&](double X) { return ratio(X) >= target_ratio; });
    if (!film_um) return std::nullopt;
    return Micrometres{*film_um};
}

}  // namespace

double contrast_ratio(Layer coat, HidingChart chart) noexcept {
    const double white = reflectance_over(coat, chart.white);
    return white > 0 ? reflectance_over(coat, chart.black) / white : 1;
}

std::optional<double> scattering_power_to_hide(double R_inf, double ratio, HidingChart chart) noexcept {
    constexpr double first = 1e-3;
    constexpr double highest = 1e9;
    const double K_over_S = ks_ratio(R_inf);
    return smallest_reaching(
        first, highest, [&](double SX) { return contrast_ratio(layer(K_over_S, 1, SX), chart) >= ratio; });
}

std::optional<Micrometres> film_to_hide(PerMicrometre K, PerMicrometre S, double ratio,
                                        HidingChart chart) noexcept {
    if (S.value <= 0) return std::nullopt;  // attenuates both halves equally: constant ratio
    return min_film(ratio, [&](double X) { return contrast_ratio(layer(K.value, S.value, X), chart); });
}

double luminous_mean(const colour::Reflectance& R, const colour::Spd& luminosity) noexcept {
    double sum = 0;
    double weights = 0;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        sum += luminosity[band] * R[band];
        weights += luminosity[band];
    }
    return sum / weights;
}

double contrast_ratio(const paint::MixedPaint& mix, Micrometres film, HidingChart chart,
                      SaundersonCorrection surface, const colour::Spd& luminosity) {
    const auto half = [&](double bare) {
        const auto R = reflectance_over(mix, film, colour::Reflectance::constant(bare));
        return luminous_mean(through_surface(R, surface, Specular::excluded), luminosity);
    };
    const double white = half(chart.white);
    return white > 0 ? half(chart.black) / white : 1;
}

std::optional<Micrometres> film_to_hide(const paint::MixedPaint& mix, double ratio, HidingChart chart,
                                        SaundersonCorrection surface, const colour::Spd& luminosity) {
    if (mix.S == colour::Scattering::constant(0)) return std::nullopt;  // a dye never hides
    return min_film(
        ratio, [&](double X) { return contrast_ratio(mix, Micrometres{X}, chart, surface, luminosity); });
}

std::optional<AbsorptionAndScattering> ks_from_chart(double over_black, double over_white, HidingChart bare,
                                                     Micrometres film) noexcept {
    const double R_k = over_black;
    const double R_w = over_white;
    const double B_k = bare.black;
    const double B_w = bare.white;
    const double X = film.value;
    if (!(B_w > B_k) || !(X > 0) || !(R_w > R_k)) return std::nullopt;

    const double R0 = (B_w * R_k - B_k * R_w) / (B_w - B_k - B_k * B_w * (R_w - R_k));
    const double T2 = (R_w - R0) * (1 - R0 * B_w) / B_w;
    if (R0 < -kRounding || !(T2 > 0)) return std::nullopt;
    const double reflected = std::max(0.0, R0);
    const double T = std::sqrt(T2);
    const double absorbed = 1 - T - reflected;
    if (absorbed < -kRounding) return std::nullopt;

    // cosh y - 1 = absorbed (1 - T + R0) / 2T, by half angles, so that a nearly perfect white keeps its
    // digits.
    const double y = 2 * std::asinh(std::sqrt(std::max(0.0, absorbed) * (1 - T + reflected) / (4 * T)));
    const double sinh_over_y = y < kThinScatteringDepth ? 1 + y * y / 6 : std::sinh(y) / y;
    const double S = reflected / (T * sinh_over_y * X);
    const double g = y / X;
    const double K = g <= 0 ? 0 : g * g / (S + std::sqrt(S * S + g * g));
    return AbsorptionAndScattering{PerMicrometre{K}, PerMicrometre{S}};
}

}  // namespace fadewright::film
