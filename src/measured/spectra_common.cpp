#include "spectra_common.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace fadewright::measured {
namespace {

constexpr double kMinWavelength_nm = 200, kMaxWavelength_nm = 1200;
constexpr double kMinReflectance = -0.1, kMaxReflectance = 3.0;  // exclusive, as in the CxF3 schema
constexpr double kMaxPlainReflectance = 1.2;  // of a surface without effect or fluorescence
constexpr double kMinBrightest = 0.015;       // the brightest band in a file of paints is always above this
constexpr std::size_t kMinPercentCount = 2;   // number of values above a fraction that make a file per cent,
constexpr double kMinPercentShare = 0.02;     // and their share of all
constexpr double kBluest_nm = 450, kReddest_nm = 650;  // a colour needs the range between them
constexpr double kUnevenStep_nm = 1.001;               // names rounded to whole nanometres differ by one

bool is_digit(char c) noexcept { return c >= '0' && c <= '9'; }

std::string format_number(double number) { return fmt::format("{}", number); }

double max_value(const std::vector<RawSpectrum>& spectra) {
    double largest_point = -1e300;
    for (const RawSpectrum& s : spectra)
        for (const SpectralValue& p : s.values) largest_point = std::max(largest_point, p.value);
    return largest_point;
}

// Effect finishes concentrate light into few angles, and powers are not shares.
bool may_exceed_white(const MeasuredSample& sample) {
    return sample.aspecular_deg.has_value() || sample.measurement == Measurement::power;
}

void warn_if_odd(const RawSpectrum& spectrum, double divisor, const SpectraReader& reader) {
    if (may_exceed_white(spectrum.sample)) return;
    const auto odd_value = std::find_if(
        spectrum.values.begin(), spectrum.values.end(),
        [&](const SpectralValue& p) { return p.value / divisor > kMaxPlainReflectance || p.value < 0; });
    if (odd_value == spectrum.values.end()) return;
    reader.warn(
        "R013", odd_value->span,
        odd_value->value < 0 ? fmt::format("{} at {} nm is negative", odd_value->value, odd_value->nm)
                             : fmt::format("{:.4g} % at {} nm is more than a white surface reflects",
                                           100 * odd_value->value / divisor, odd_value->nm),
        "possible for effect and fluorescent finishes and noise; otherwise check the value and its scale");
}

void warn_if_narrow(const MeasuredSample& sample, const SpectraReader& reader) {
    const double first = sample.wavelengths_nm.front(), last = sample.wavelengths_nm.back();
    if (first <= kBluest_nm && last >= kReddest_nm) return;
    reader.warn(
        "R026", sample.span, fmt::format("'{}' covers only {:g} to {:g} nm", sample.name, first, last),
        "a spectrum is held constant beyond its ends, so its colour is estimated; are the start and the "
        "increment right?");
}

}  // namespace

std::optional<double> parse_number(std::string_view text) {
    if (text.starts_with('+')) text.remove_prefix(1);
    const std::string_view digits = text.starts_with('-') ? text.substr(1) : text;
    if (digits.empty() || !(is_digit(digits.front()) || digits.front() == '.')) return std::nullopt;
    const std::size_t point = digits.find('.');
    if (point != std::string_view::npos && (point + 1 == digits.size() || !is_digit(digits[point + 1])))
        return std::nullopt;
    double value = 0;
    const auto [end, ec] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (ec != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

std::optional<Scale> detect_scale(const std::vector<RawSpectrum>& spectra, const SpectraReader& reader) {
    const SpectralValue* largest_point = nullptr;
    std::size_t all = 0, large = 0;
    for (const RawSpectrum& s : spectra)
        for (const SpectralValue& p : s.values) {
            ++all;
            if (p.value > kMaxFraction) ++large;
            if (!largest_point || p.value > largest_point->value) largest_point = &p;
        }
    const bool percent = large > 0;
    constexpr double kDimPercent = 5;  // a file this dark may be wrong fractions
    const std::string hint =
        "name the fields SPECTRAL_PCT or SPECTRAL_DEC, or write % or fraction in the header";
    if (percent && (large < kMinPercentCount ||
                    static_cast<double>(large) < kMinPercentShare * static_cast<double>(all))) {
        reader.error("R013", largest_point->span,
                     fmt::format("{} is not a fraction, but nearly all other values look like fractions",
                                 largest_point->value),
                     "is its decimal point in the right place? if the file is in per cent: " + hint);
        return std::nullopt;
    }
    if (percent && largest_point->value < kDimPercent)
        reader.warn("R013", largest_point->span,
                    fmt::format("the largest value is {}: assumed to be per cent, but this is uncertain",
                                largest_point->value),
                    hint);
    return Scale{percent ? 100.0 : 1.0,
                 fmt::format("values are assumed to be {}: not stated in the file; the largest is {}",
                             percent ? "per cent" : "fractions", largest_point ? largest_point->value : 0)};
}

bool check_wavelengths(const std::vector<SpectralValue>& values, const SpectraReader& reader) {
    for (const SpectralValue& p : values)
        if (p.nm < kMinWavelength_nm || p.nm > kMaxWavelength_nm) {
            reader.error("R008", p.span,
                         fmt::format("{} nm is not a wavelength of a colour measurement", p.nm),
                         fmt::format("allowed: {} to {} nm", kMinWavelength_nm, kMaxWavelength_nm));
            return false;
        }
    if (values.size() < 2) return true;
    const double direction = values[1].nm > values[0].nm ? 1 : -1;
    double narrowest = 1e9, widest = 0;
    const SpectralValue* first_uneven = nullptr;
    for (std::size_t i = 1; i < values.size(); ++i) {
        const double step = direction * (values[i].nm - values[i - 1].nm);
        if (step <= 0) {
            reader.error("R009", values[i].span,
                         fmt::format("{} nm comes after {} nm", values[i].nm, values[i - 1].nm),
                         "give every wavelength once, in rising or falling order");
            return false;
        }
        if (i > 1 && !first_uneven &&
            std::abs(step - (direction * (values[1].nm - values[0].nm))) > kUnevenStep_nm)
            first_uneven = &values[i];
        narrowest = std::min(narrowest, step);
        widest = std::max(widest, step);
    }
    if (widest - narrowest > kUnevenStep_nm)
        reader.warn("R010", first_uneven ? first_uneven->span : values.back().span,
                    fmt::format("the wavelengths are {} to {} nm apart", format_number(narrowest),
                                format_number(widest)),
                    "most instruments measure in equal steps: is a wavelength missing or mistyped?");
    return true;
}

bool finalise(RawSpectrum& spectrum, double divisor, const SpectraReader& reader) {
    std::vector<SpectralValue>& values = spectrum.values;
    std::stable_sort(values.begin(), values.end(),
                     [](const SpectralValue& a, const SpectralValue& b) { return a.nm < b.nm; });
    for (std::size_t i = 0; i < values.size(); ++i) {
        const SpectralValue& p = values[i];
        const double value = p.value / divisor;
        if (p.nm < kMinWavelength_nm || p.nm > kMaxWavelength_nm) {
            reader.error("R008", p.span,
                         fmt::format("{} nm is not a wavelength of a colour measurement", p.nm),
                         fmt::format("allowed: {} to {} nm", kMinWavelength_nm, kMaxWavelength_nm));
            return false;
        }
        if (!(value > kMinReflectance && value < kMaxReflectance)) {
            reader.error(
                "R012", p.span,
                fmt::format("{} at {} nm is not a reflectance ({:.4g} %)", p.value, p.nm, 100 * value),
                "a reflectance is above -10 % and below 300 %; the power of a light is not a reflectance");
            return false;
        }
        if (i > 0 && p.nm == values[i - 1].nm && p.value != values[i - 1].value) {
            reader.error("R009", p.span,
                         fmt::format("{} nm has two values, {} and {}", p.nm, values[i - 1].value, p.value),
                         "keep one of them");
            return false;
        }
    }
    warn_if_odd(spectrum, divisor, reader);
    MeasuredSample& sample = spectrum.sample;
    for (const SpectralValue& p : values) {
        if (!sample.wavelengths_nm.empty() && sample.wavelengths_nm.back() == p.nm) continue;
        sample.wavelengths_nm.push_back(p.nm);
        sample.values.push_back(p.value / divisor);
    }
    if (sample.values.size() >= 2) {
        warn_if_narrow(sample, reader);
        return true;
    }
    reader.error("R020", sample.span, fmt::format("'{}' has fewer than two wavelengths", sample.name),
                 "a spectrum needs values at two or more wavelengths");
    return false;
}

bool finalise_all(std::vector<RawSpectrum>& spectra, double divisor, const SpectraReader& reader,
                  MeasuredFile& file) {
    bool good = true;
    for (RawSpectrum& spectrum : spectra) good = finalise(spectrum, divisor, reader) && good;
    if (!good) return false;
    const double largest_point = max_value(spectra) / divisor;
    if (!spectra.empty() && largest_point < kMinBrightest)
        reader.warn("R013", spectra.front().values.front().span,
                    fmt::format("no value is above {:.3g} %: no paint is that dark", 100 * largest_point),
                    "are these fractions, but labelled per cent?");
    for (RawSpectrum& spectrum : spectra) file.samples.push_back(std::move(spectrum.sample));
    return true;
}

std::string to_lower(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return out;
}

std::string parse_backing(std::string_view text) {
    const std::string lower_case = to_lower(text);
    const bool black = lower_case.find("black") != std::string::npos,
               white = lower_case.find("white") != std::string::npos;
    return black == white ? "" : black ? "black" : "white";
}

}  // namespace fadewright::measured
