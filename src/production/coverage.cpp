#include "fadewright/production/coverage.h"

#include "fadewright/base/contract.h"
#include "fadewright/spray/panel.h"

#include <cmath>

namespace fadewright::production {
namespace {

constexpr double kSquareMillimetresPerSquareMetre = 1e6;

}  // namespace

Millilitres spray_volume(double area_m2, Micrometres film, Share solids, Share transfer) {
    FW_EXPECTS(solids.value > 0);
    FW_EXPECTS(transfer.value > 0);
    return Millilitres{spray::paint_in_film(film, area_m2).value / (solids.value * transfer.value)};
}

double coverage_m2(Millilitres paint, Micrometres film, Share solids, Share transfer) {
    FW_EXPECTS(film.value > 0);
    return spray::area_covered_m2(solids.value * transfer.value * paint, film);
}

Micrometres wet_film_of(Micrometres dry, Share solids, Share reduced) {
    FW_EXPECTS(solids.value > 0);
    return Micrometres{dry.value * (1 + reduced.value) / solids.value};
}

Micrometres dry_film_of(Micrometres wet, Share solids, Share reduced) {
    return Micrometres{wet.value * solids.value / (1 + reduced.value)};
}

std::vector<Share> step_down_strengths(Share replaced, int cups) {
    FW_EXPECTS(replaced.value >= 0 && replaced.value <= 1);
    std::vector<Share> left;
    for (int cup = 0; cup < cups; ++cup) left.emplace_back(std::pow(1 - replaced.value, cup));
    return left;
}

double passes_over_a_point(Share overlap) {
    FW_EXPECTS(overlap.value < 1);
    return 1 / (1 - overlap.value);
}

Share weighing_error(Grams amount, Grams division) {
    FW_EXPECTS(amount.value > 0);
    return Share{division.value / 2 / amount.value};
}

Grams smallest_batch(Share share, Grams division, Share error) {
    FW_EXPECTS(share.value > 0);
    FW_EXPECTS(error.value > 0);
    return Grams{division.value / 2 / (share.value * error.value)};
}

Grams card_film_weight(Millimetres width, Millimetres height, Micrometres film,
                       GramsPerMillilitre dry_density) {
    const double area_m2 = width.value * height.value / kSquareMillimetresPerSquareMetre;
    return Grams{spray::paint_in_film(film, area_m2).value * dry_density.value};
}

ClearFilm rate_clear_film(Micrometres dry) noexcept {
    if (dry > kClearTooThick) return ClearFilm::too_thick;
    if (dry > kMaxClear) return ClearFilm::thick;
    return dry >= kMinClear ? ClearFilm::normal : ClearFilm::thin;
}

}  // namespace fadewright::production
