#include "fadewright/report/paint_calibration_report.h"

#include "fadewright/report/format.h"
#include "fadewright/report/phrases_calibration.h"

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

struct SpectralRange {
    std::string_view name;
    double from_nm, to_nm;  // both included
};

constexpr std::array kSpectralRanges{
    SpectralRange{"violet end", 380, 420}, SpectralRange{"blue", 430, 490},
    SpectralRange{"green", 500, 560},      SpectralRange{"yellow and orange", 570, 610},
    SpectralRange{"red", 620, 690},        SpectralRange{"deep red end", 700, 730}};

// Relative uncertainty below which a coefficient is well known, and above which it is unknown.
constexpr double kWellKnown = 0.05, kUnknown = 1.0;

// A coefficient below this changes no reading by more than its noise, however uncertain it is.
constexpr double kNegligible_per_um = 2e-4;

std::string certainty(std::string_view symbol, double worst, double highest, DisplayUnits units) {
    if (highest < kNegligible_per_um) return fmt::format("{} negligible", symbol);
    if (worst <= kWellKnown) return fmt::format("{} known to {:.0f} %", symbol, std::max(1.0, 100 * worst));
    if (worst <= kUnknown) return fmt::format("{} uncertain by {:.0f} %", symbol, 100 * worst);
    if (std::isfinite(highest))
        return fmt::format("{} known only to be below {:.2g} {}", symbol, units.value(PerMicrometre{highest}),
                           units.unit_name<PerMicrometre>());
    return fmt::format("{} unknown", symbol);
}

// "380 to 420 nm" or "570 nm".
std::string wavelengths_label(double from_nm, double to_nm) {
    return from_nm == to_nm ? fmt::format("{:.0f} nm", from_nm)
                            : fmt::format("{:.0f} to {:.0f} nm", from_nm, to_nm);
}

std::string describe_range(const calibration::PaintFit& fit, const SpectralRange& range, DisplayUnits units) {
    double worst_K = 0, worst_S = 0, high_K = 0, high_S = 0;
    double first_hidden = 0, last_hidden = 0;
    bool any_known = false;
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const double nm = band_nm(band);
        if (nm < range.from_nm || nm > range.to_nm) continue;
        const calibration::BandFit& b = fit.bands[band];
        if (b.S_extrapolated) {
            if (first_hidden == 0) first_hidden = nm;
            last_hidden = nm;
            continue;
        }
        any_known = true;
        worst_K = std::max(worst_K, b.K.uncertainty());
        worst_S = std::max(worst_S, b.S.uncertainty());
        high_K = std::max(high_K, b.K.high);
        high_S = std::max(high_S, b.S.high);
    }
    std::string text =
        fmt::format("  {:<18} {}: ", range.name, wavelengths_label(range.from_nm, range.to_nm));
    if (any_known)
        text += certainty("K", worst_K, high_K, units) + ", " + certainty("S", worst_S, high_S, units);
    if (first_hidden > 0)
        text += (any_known ? "; " : "") +
                fmt::format("only K/S known{}",
                            any_known ? " at " + wavelengths_label(first_hidden, last_hidden) : "");
    return text + "\n";
}

bool any_extrapolated(const calibration::PaintFit& fit) {
    return std::any_of(fit.bands.begin(), fit.bands.end(),
                       [](const calibration::BandFit& b) { return b.S_extrapolated; });
}

double largest_residual(const colour::Reflectance& residual) {
    double largest = 0;
    for (const double r : residual.values) largest = std::max(largest, std::abs(r));
    return largest;
}

std::string percent(double share) {
    return std::isfinite(share) && share < 10 ? fmt::format("{:.1f} %", 100 * share) : "unknown";
}

std::string band_table(const calibration::PaintFit& fit, DisplayUnits units) {
    const std::string_view film = units.unit_name<Micrometres>();
    std::string out = fmt::format("\n   nm    {:<12} {:<11} {:<12} {:<11} worst residual\n",
                                  fmt::format("K per {}", film), "±", fmt::format("S per {}", film), "±");
    for (std::size_t band = 0; band < kBandCount; ++band) {
        const calibration::BandFit& b = fit.bands[band];
        double worst = 0;
        for (const auto& residual : fit.residuals)
            if (std::abs(residual[band]) > std::abs(worst)) worst = residual[band];
        out += fmt::format("  {:.0f}    {:<12.5g} {:<11} {:<12.5g} {:<11} {:+.4f}{}\n", band_nm(band),
                           units.value(PerMicrometre{b.K.value}), percent(b.K.uncertainty()),
                           units.value(PerMicrometre{b.S.value}), percent(b.S.uncertainty()), worst,
                           b.S_extrapolated ? "  S extrapolated" : "");
    }
    return out;
}

std::string fit_text(const calibration::PaintCalibration& calibration, DisplayUnits units) {
    const calibration::PaintFit& fit = *calibration.fit;
    std::string out =
        fmt::format("{} readings, RMS error {:.4f} (reflectance)\n", fit.residuals.size(), fit.rms_error);
    for (std::size_t i = 0; i < fit.residuals.size(); ++i)
        out += fmt::format("  {:<24} largest residual {:.4f}\n", calibration.reading_names[i],
                           largest_residual(fit.residuals[i]));
    if (fit.noise_scale > 1.5)
        out += fmt::format(
            "the readings scatter {:.1f}× more than their noise allows: check the films, and check whether "
            "black and white halves were swapped\n",
            fit.noise_scale);
    out += "K and S by wavelength, one standard error:\n";
    for (const SpectralRange& range : kSpectralRanges) out += describe_range(fit, range, units);
    if (any_extrapolated(fit))
        out +=
            "where only K/S is known the films hide fully: S is extrapolated from the nearest bands where it "
            "is known; add a thinner film or a let-down with white\n";
    if (calibration.film_uncertainty > 0)
        out += fmt::format("films are known to {:.0f} %; K and S share that error\n",
                           100 * calibration.film_uncertainty);
    return out;
}

nlohmann::ordered_json number(double v) {
    if (std::isfinite(v)) return v;
    return nullptr;  // unbounded
}

nlohmann::ordered_json estimate(const calibration::Estimate& e) {
    return {
        {"value", e.value}, {"standard_error", number(e.error)}, {"low", e.low}, {"high", number(e.high)}};
}

}  // namespace

std::string paint_calibration_text(const calibration::PaintCalibration& calibration, DisplayUnits units) {
    std::string out = fmt::format("{}: {} ({})\n", calibration.paint.title, calibration.paint.source,
                                  provenance_label(calibration.paint.origin));
    for (const std::string& remark : describe_remarks(calibration)) out += remark + "\n";
    if (calibration.fit) out += fit_text(calibration, units) + band_table(*calibration.fit, units);
    return out;
}

std::string paint_calibration_json(const calibration::PaintCalibration& calibration) {
    nlohmann::ordered_json json;
    json["title"] = calibration.paint.title;
    json["origin"] = provenance_label(calibration.paint.origin);
    json["source"] = calibration.paint.source;
    json["remarks"] = describe_remarks(calibration);
    json["bands"] = nlohmann::ordered_json::array();
    if (calibration.fit) {
        const calibration::PaintFit& fit = *calibration.fit;
        json["rms_error"] = fit.rms_error;
        json["noise_scaled_by"] = fit.noise_scale;
        json["film_uncertainty"] = calibration.film_uncertainty;
        for (std::size_t i = 0; i < fit.residuals.size(); ++i)
            json["readings"].push_back(
                {{"name", calibration.reading_names[i]}, {"residual", fit.residuals[i].values}});
    }
    for (std::size_t band = 0; band < kBandCount; ++band) {
        nlohmann::ordered_json row{{"nm", band_nm(band)}};
        if (calibration.fit) {
            const calibration::BandFit& b = calibration.fit->bands[band];
            row["K_per_um"] = estimate(b.K);
            row["S_per_um"] = estimate(b.S);
            row["S_extrapolated"] = b.S_extrapolated;
        } else {
            row["K_per_um"] = {{"value", calibration.paint.K[band]}};
            row["S_per_um"] = {{"value", calibration.paint.S[band]}};
        }
        json["bands"].push_back(row);
    }
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
