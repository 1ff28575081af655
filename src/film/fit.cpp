#include "fadewright/film/fit.h"

#include "band_fit.h"
#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::film {
namespace {

using colour::kBandCount;

// What lies beyond these cannot be told from black or from perfect white.
constexpr double kDarkest = 1e-4, kBrightest = 1 - 1e-6;

BandProblem band_problem(std::span<const Reading> readings, std::size_t band, Skin skin, Specular specular) {
    std::vector<BandReading> rows;
    rows.reserve(readings.size());
    for (const Reading& r : readings)
        rows.push_back({r.film.value, r.ground[band], r.seen[band], r.noise, r.share.value, r.known_K[band],
                        r.known_S[band]});
    return {std::move(rows), skin, specular};
}

// S of the nearest bands that know theirs, straight in its logarithm between them.
std::optional<double> S_of_neighbours(const std::array<BandFit, kBandCount>& bands, std::size_t band) {
    const auto knows = [&](std::size_t i) { return !bands[i].carried && bands[i].S.value > 0; };
    std::size_t below = band, above = band;
    while (below > 0 && !knows(below)) --below;
    while (above + 1 < kBandCount && !knows(above)) ++above;
    if (!knows(below) && !knows(above)) return std::nullopt;
    if (!knows(below)) return bands[above].S.value;
    if (!knows(above)) return bands[below].S.value;
    const double share = static_cast<double>(band - below) / static_cast<double>(above - below);
    return std::exp((1 - share) * std::log(bands[below].S.value) + share * std::log(bands[above].S.value));
}

// Gives the bands that fix no S one of their neighbours' that their readings allow.
void carry_over(const std::vector<BandProblem>& problems, PaintFit& fit) {
    const auto own = fit.bands;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        BandFit& b = fit.bands[band];
        if (!b.carried) continue;
        const Pair best{b.K.value, b.S.value};
        const double rise = fit.scale * fit.scale;
        const double weakest = problems[band].weakest_S(best, rise);
        const double S = std::max(weakest, S_of_neighbours(own, band).value_or(weakest));
        const Pair chosen = problems[band].best_with_S(S, best);
        b.K.value = chosen.K;
        b.S.value = chosen.S;
    }
}

void add_residuals(const std::vector<BandProblem>& problems, PaintFit& fit) {
    const std::size_t count = problems.front().readings().size();
    fit.residuals.resize(count);
    double sum = 0;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const Pair p{fit.K[band], fit.S[band]};
        for (std::size_t i = 0; i < count; ++i) {
            const BandReading& r = problems[band].readings()[i];
            fit.residuals[i][band] = r.seen - problems[band].predicted(r, p);
            sum += fit.residuals[i][band] * fit.residuals[i][band];
        }
    }
    fit.root_mean_square = std::sqrt(sum / static_cast<double>(count * kBandCount));
}

}  // namespace

double Estimate::uncertainty() const noexcept {
    if (value <= 0) return high > 0 ? std::numeric_limits<double>::infinity() : 0;
    return std::max(high - value, value - low) / (2 * value);
}

PaintFit fitted(std::span<const Reading> readings, Skin skin, Specular specular, double rise) {
    FW_EXPECTS(!readings.empty());
    std::vector<double> ground_noise;
    for (const Reading& r : readings) {
        FW_EXPECTS(r.noise > 0 && r.film.value >= 0 && r.share.value > 0);
        const auto sharing = std::count_if(readings.begin(), readings.end(),
                                           [&](const Reading& other) { return other.ground == r.ground; });
        ground_noise.push_back(r.ground_noise * std::sqrt(static_cast<double>(sharing)));
    }
    std::vector<BandProblem> problems;
    std::array<Pair, kBandCount> best;
    double chi2 = 0;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        problems.push_back(band_problem(readings, band, skin, specular));
        BandProblem& problem = problems.back();
        problem.add_ground_noise(ground_noise, problem.best());
        best[band] = problem.best();
        chi2 += problem.chi2(best[band]);
    }
    PaintFit fit;
    if (readings.size() > 2)
        fit.scale = std::max(1.0, std::sqrt(chi2 / static_cast<double>((readings.size() - 2) * kBandCount)));
    for (std::size_t band = 0; band < kBandCount; ++band) {
        BandFit& b = fit.bands[band];
        b.K = problems[band].estimate(Coefficient::K, best[band], fit.scale, rise);
        b.S = problems[band].estimate(Coefficient::S, best[band], fit.scale, rise);
        b.carried = problems[band].may_hide(best[band], kDoubt * fit.scale * fit.scale);
        if (b.carried) b.K.high = b.S.high = std::numeric_limits<double>::infinity();
    }
    carry_over(problems, fit);
    for (std::size_t band = 0; band < kBandCount; ++band) {
        fit.K[band] = fit.bands[band].K.value;
        fit.S[band] = fit.bands[band].S.value;
    }
    add_residuals(problems, fit);
    return fit;
}

std::optional<AbsorptionAndScatteringCurves> from_masstone(const colour::Reflectance& inside,
                                                           Micrometres hides, Card card, Skin skin,
                                                           const colour::Power& luminosity) {
    FW_EXPECTS(hides.value > 0);
    paint::MixedPaint unit;  // S = 1, so that its hiding film is a pure number
    unit.S = colour::Scattering::constant(1);
    for (std::size_t band = 0; band < kBandCount; ++band)
        unit.K[band] = absorption_ratio(std::clamp(inside[band], kDarkest, kBrightest));
    const auto film = film_to_hide(unit, kFullHiding, card, skin, luminosity);
    if (!film) return std::nullopt;
    const double S = *film / hides;
    AbsorptionAndScatteringCurves out;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        out.K[band] = unit.K[band] * S;
        out.S[band] = S;
    }
    return out;
}

}  // namespace fadewright::film
