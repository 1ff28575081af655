#include "fadewright/film/hiding.h"

#include "fadewright/film/stack.h"

#include <algorithm>
#include <cmath>

namespace fadewright::film {
namespace {

// Readings that ask for a film which gives back this much more than it received are taken as rounding.
constexpr double kRounding = 1e-9;

// sinh(y)/y leaves its series 1 + y^2/6 by less than one rounding below this.
constexpr double kSmallDepth = 1e-4;

// Smallest x in (0, highest] with reaches(x), where reaches never turns false again; by doubling from
// `first`, then halving the bracket until it is one rounding wide.
template <class Reaches>
std::optional<double> smallest(double first, double highest, Reaches reaches) noexcept {
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
std::optional<Micrometres> thinnest(double asked, Ratio ratio) {
    constexpr double first_um = 0.1;
    const auto film_um = smallest(first_um, kThickestFilm_um, [&](double X) { return ratio(X) >= asked; });
    if (!film_um) return std::nullopt;
    return Micrometres{*film_um};
}

}  // namespace

double contrast_ratio(Layer coat, Card card) noexcept {
    const double white = over(coat, card.white);
    return white > 0 ? over(coat, card.black) / white : 1;
}

std::optional<double> scattering_power_to_hide(double R_inf, double ratio, Card card) noexcept {
    constexpr double first = 1e-3;
    constexpr double highest = 1e9;
    const double K_over_S = absorption_ratio(R_inf);
    return smallest(first, highest,
                    [&](double SX) { return contrast_ratio(layer(K_over_S, 1, SX), card) >= ratio; });
}

std::optional<Micrometres> film_to_hide(PerMicrometre K, PerMicrometre S, double ratio, Card card) noexcept {
    if (S.value <= 0) return std::nullopt;  // dims both halves alike: the ratio never moves
    return thinnest(ratio, [&](double X) { return contrast_ratio(layer(K.value, S.value, X), card); });
}

double luminous_mean(const colour::Reflectance& R, const colour::Power& luminosity) noexcept {
    double sum = 0;
    double weights = 0;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        sum += luminosity[band] * R[band];
        weights += luminosity[band];
    }
    return sum / weights;
}

double contrast_ratio(const paint::MixedPaint& mix, Micrometres film, Card card, Skin skin,
                      const colour::Power& luminosity) {
    const auto half = [&](double bare) {
        const auto R = over(mix, film, colour::Reflectance::constant(bare));
        return luminous_mean(seen(R, skin, Specular::excluded), luminosity);
    };
    const double white = half(card.white);
    return white > 0 ? half(card.black) / white : 1;
}

std::optional<Micrometres> film_to_hide(const paint::MixedPaint& mix, double ratio, Card card, Skin skin,
                                        const colour::Power& luminosity) {
    if (mix.S == colour::Scattering::constant(0)) return std::nullopt;  // a dye shows its ground to the end
    return thinnest(ratio,
                    [&](double X) { return contrast_ratio(mix, Micrometres{X}, card, skin, luminosity); });
}

std::optional<AbsorptionAndScattering> from_card(double over_black, double over_white, Card bare,
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
    const double sent_back = std::max(0.0, R0);
    const double T = std::sqrt(T2);
    const double absorbed = 1 - T - sent_back;
    if (absorbed < -kRounding) return std::nullopt;

    // cosh y - 1 = absorbed (1 - T + R0) / 2T, by half angles, so that a nearly perfect white keeps its
    // digits.
    const double y = 2 * std::asinh(std::sqrt(std::max(0.0, absorbed) * (1 - T + sent_back) / (4 * T)));
    const double sinh_over_y = y < kSmallDepth ? 1 + y * y / 6 : std::sinh(y) / y;
    const double S = sent_back / (T * sinh_over_y * X);
    const double g = y / X;
    const double K = g <= 0 ? 0 : g * g / (S + std::sqrt(S * S + g * g));
    return AbsorptionAndScattering{PerMicrometre{K}, PerMicrometre{S}};
}

}  // namespace fadewright::film
