#include "fadewright/film/ks_fit.h"

#include "fadewright/base/contract.h"
#include "ks_band_fit.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::film {
namespace {

using colour::kBandCount;

// Values beyond these are indistinguishable from black or from perfect white.
constexpr double kMinReflectance = 1e-4, kMaxReflectance = 1 - 1e-6;

BandProblem band_problem(std::span<const DrawdownReading> readings, std::size_t band,
                         SaundersonCorrection surface, Specular specular) {
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

PaintFit fit_ks(std::span<const DrawdownReading> readings, SaundersonCorrection surface, Specular specular,
                double rise) {
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
                                                               Micrometres hiding_film, HidingChart chart,
                                                               SaundersonCorrection surface,
                                                               const colour::Spd& luminosity) {
    FW_EXPECTS(hiding_film.value > 0);
    paint::MixedPaint unit;  // S = 1, so that its hiding film is a pure number
    unit.S = colour::Scattering::constant(1);
    for (std::size_t band = 0; band < kBandCount; ++band)
        unit.K[band] = ks_ratio(std::clamp(inside[band], kMinReflectance, kMaxReflectance));
    const auto film = film_to_hide(unit, kFullHiding, chart, surface, luminosity);
    if (!film) return std::nullopt;
    const double S = *film / hiding_film;
    AbsorptionAndScatteringSpectra out;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        out.K[band] = unit.K[band] * S;
        out.S[band] = S;
    }
    return out;
}

}  // namespace fadewright::film
