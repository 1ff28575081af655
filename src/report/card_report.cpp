#include "fadewright/report/card_report.h"

#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using colour::band_nm;
using colour::kBandCount;

struct Stretch {
    std::string_view name;
    double from_nm, to_nm;  // both included
};

constexpr std::array kStretches{Stretch{"violet end", 380, 420}, Stretch{"blue", 430, 490},
                                Stretch{"green", 500, 560},      Stretch{"yellow and orange", 570, 610},
                                Stretch{"red", 620, 690},        Stretch{"deep red end", 700, 730}};

// Below this share a coefficient is called well known; above the other, unknown.
constexpr double kWell = 0.05, kUnknown = 1.0;

// A coefficient that moves no reading by more than its noise: too small to matter, however uncertain.
constexpr double kNought_per_um = 2e-4;

std::string certainty(std::string_view symbol, double worst, double highest, ShownUnits units) {
    if (highest < kNought_per_um) return fmt::format("{} next to nothing", symbol);
    if (worst <= kWell) return fmt::format("{} known to {:.0f} %", symbol, std::max(1.0, 100 * worst));
    if (worst <= kUnknown) return fmt::format("{} uncertain by {:.0f} %", symbol, 100 * worst);
    if (std::isfinite(highest))
        return fmt::format("{} only known to be below {:.2g} {}", symbol,
                           units.number(PerMicrometre{highest}), units.name<PerMicrometre>());
    return fmt::format("{} unknown", symbol);
}

// "380 to 420 nm" or "570 nm".
std::string range_words(double from_nm, double to_nm) {
    return from_nm == to_nm ? fmt::format("{:.0f} nm", from_nm)
                            : fmt::format("{:.0f} to {:.0f} nm", from_nm, to_nm);
}

std::string stretch_words(const film::PaintFit& fit, const Stretch& stretch, ShownUnits units) {
    double worst_K = 0, worst_S = 0, high_K = 0, high_S = 0;
    double first_hidden = 0, last_hidden = 0;
    bool some_known = false;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const double nm = band_nm(band);
        if (nm < stretch.from_nm || nm > stretch.to_nm) continue;
        const film::BandFit& b = fit.bands[band];
        if (b.carried) {
            if (first_hidden == 0) first_hidden = nm;
            last_hidden = nm;
            continue;
        }
        some_known = true;
        worst_K = std::max(worst_K, b.K.uncertainty());
        worst_S = std::max(worst_S, b.S.uncertainty());
        high_K = std::max(high_K, b.K.high);
        high_S = std::max(high_S, b.S.high);
    }
    std::string words =
        fmt::format("  {:<18} {}: ", stretch.name, range_words(stretch.from_nm, stretch.to_nm));
    if (some_known)
        words += certainty("K", worst_K, high_K, units) + ", " + certainty("S", worst_S, high_S, units);
    if (first_hidden > 0)
        words += (some_known ? "; " : "") +
                 fmt::format("only K/S known{}",
                             some_known ? " at " + range_words(first_hidden, last_hidden) : "");
    return words + "\n";
}

bool any_carried(const film::PaintFit& fit) {
    return std::any_of(fit.bands.begin(), fit.bands.end(), [](const film::BandFit& b) { return b.carried; });
}

double largest(const colour::Reflectance& residual) {
    double largest = 0;
    for (const double r : residual.at) largest = std::max(largest, std::abs(r));
    return largest;
}

std::string percent(double share) {
    return std::isfinite(share) && share < 10 ? fmt::format("{:.1f} %", 100 * share) : "unknown";
}

std::string band_table(const film::PaintFit& fit, ShownUnits units) {
    const std::string_view film = units.name<Micrometres>();
    std::string out = fmt::format("\n   nm    {:<12} {:<11} {:<12} {:<11} worst misfit\n",
                                  fmt::format("K per {}", film), "+-", fmt::format("S per {}", film), "+-");
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const film::BandFit& b = fit.bands[band];
        double misfit = 0;
        for (const auto& residual : fit.residuals)
            if (std::abs(residual[band]) > std::abs(misfit)) misfit = residual[band];
        out += fmt::format("  {:.0f}    {:<12.5g} {:<11} {:<12.5g} {:<11} {:+.4f}{}\n", band_nm(band),
                           units.number(PerMicrometre{b.K.value}), percent(b.K.uncertainty()),
                           units.number(PerMicrometre{b.S.value}), percent(b.S.uncertainty()), misfit,
                           b.carried ? "  S carried over" : "");
    }
    return out;
}

std::string fit_words(const plan::LearnedPaint& learned, ShownUnits units) {
    const film::PaintFit& fit = *learned.fit;
    std::string out = fmt::format("{} readings, missed by {:.4f} on average (reflectance)\n",
                                  fit.residuals.size(), fit.root_mean_square);
    for (std::size_t i = 0; i < fit.residuals.size(); ++i)
        out += fmt::format("  {:<24} missed by at most {:.4f}\n", learned.reading_names[i],
                           largest(fit.residuals[i]));
    if (fit.scale > 1.5)
        out += fmt::format(
            "the readings disagree {:.1f} times more than their noise allows: look at films and exchanged "
            "halves\n",
            fit.scale);
    out += "what the card says, one standard error:\n";
    for (const Stretch& stretch : kStretches) out += stretch_words(fit, stretch, units);
    if (any_carried(fit))
        out +=
            "where only K/S is known the films hide: S is carried over from the nearest bands that know it; "
            "a "
            "thinner film or a let-down with white would tell\n";
    if (learned.film_uncertainty > 0)
        out +=
            fmt::format("films are known to {:.0f} %; all of K and S are off by as much as the films are\n",
                        100 * learned.film_uncertainty);
    return out;
}

nlohmann::ordered_json number(double v) {
    if (std::isfinite(v)) return v;
    return nullptr;  // open: nothing bounds it
}

nlohmann::ordered_json estimate(const film::Estimate& e) {
    return {
        {"value", e.value}, {"standard_error", number(e.error)}, {"low", e.low}, {"high", number(e.high)}};
}

}  // namespace

std::string card_words(const plan::LearnedPaint& learned, ShownUnits units) {
    std::string out = fmt::format("{}: {} ({})\n", learned.paint.title, learned.paint.source,
                                  origin_words(learned.paint.origin));
    for (const std::string& remark : learned.remarks) out += remark + "\n";
    if (learned.fit) out += fit_words(learned, units) + band_table(*learned.fit, units);
    return out;
}

std::string card_json(const plan::LearnedPaint& learned) {
    nlohmann::ordered_json json;
    json["title"] = learned.paint.title;
    json["origin"] = origin_words(learned.paint.origin);
    json["source"] = learned.paint.source;
    json["remarks"] = learned.remarks;
    json["bands"] = nlohmann::ordered_json::array();
    if (learned.fit) {
        const film::PaintFit& fit = *learned.fit;
        json["root_mean_square"] = fit.root_mean_square;
        json["noise_raised_by"] = fit.scale;
        json["film_uncertainty"] = learned.film_uncertainty;
        for (std::size_t i = 0; i < fit.residuals.size(); ++i)
            json["readings"].push_back(
                {{"name", learned.reading_names[i]}, {"read_less_predicted", fit.residuals[i].at}});
    }
    for (std::size_t band = 0; band < kBandCount; ++band) {
        nlohmann::ordered_json row{{"nm", band_nm(band)}};
        if (learned.fit) {
            const film::BandFit& b = learned.fit->bands[band];
            row["K_per_um"] = estimate(b.K);
            row["S_per_um"] = estimate(b.S);
            row["S_carried_over"] = b.carried;
        } else {
            row["K_per_um"] = {{"value", learned.paint.K[band]}};
            row["S_per_um"] = {{"value", learned.paint.S[band]}};
        }
        json["bands"].push_back(row);
    }
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
