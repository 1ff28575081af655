#include "spectra_parts.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace fadewright::colour {
namespace {

constexpr double kShortest_nm = 200, kLongest_nm = 1200;
constexpr double kLowest = -0.1, kHighest = 3.0;  // exclusive, as the CxF3 schema has them
constexpr double kBrightest = 1.2;                // of a surface without effect or fluorescence
constexpr double kDarkest = 0.015;                // the brightest band of a file of paints is never below it
constexpr std::size_t kFewest = 2;                // values above a fraction that make a file per cent,
constexpr double kFewestShare = 0.02;             // and their share of all
constexpr double kBluest_nm = 450, kReddest_nm = 650;  // a colour needs what lies between them
constexpr double kUnevenStep_nm = 1.001;               // names rounded to whole nanometres differ by one

bool is_digit(char c) noexcept { return c >= '0' && c <= '9'; }

std::string shown(double number) { return fmt::format("{}", number); }

double largest(const std::vector<Spectrum>& spectra) {
    double most = -1e300;
    for (const Spectrum& s : spectra)
        for (const Point& p : s.points) most = std::max(most, p.value);
    return most;
}

// Effect finishes turn light into few angles, and powers are no shares.
bool may_exceed_white(const MeasuredSample& sample) {
    return sample.aspecular_deg.has_value() || sample.measurement == Measurement::power;
}

void warn_if_odd(const Spectrum& spectrum, double divisor, const Reader& reader) {
    if (may_exceed_white(spectrum.sample)) return;
    const auto odd = std::find_if(spectrum.points.begin(), spectrum.points.end(), [&](const Point& p) {
        return p.value / divisor > kBrightest || p.value < 0;
    });
    if (odd == spectrum.points.end()) return;
    reader.warn("R013", odd->place,
                odd->value < 0 ? fmt::format("{} at {} nm is less than no light at all", odd->value, odd->nm)
                               : fmt::format("{:.4g} % at {} nm is more than a white surface sends back",
                                             100 * odd->value / divisor, odd->nm),
                "right for effect and fluorescent finishes and noise; else look at the value and its scale");
}

void warn_if_narrow(const MeasuredSample& sample, const Reader& reader) {
    const double first = sample.wavelengths_nm.front(), last = sample.wavelengths_nm.back();
    if (first <= kBluest_nm && last >= kReddest_nm) return;
    reader.warn(
        "R026", sample.place, fmt::format("'{}' reaches from {:g} to {:g} nm only", sample.name, first, last),
        "beyond its ends a spectrum is held constant, so its colour is a guess; are the start and the "
        "increment right?");
}

}  // namespace

std::optional<double> number_of(std::string_view text) {
    if (text.starts_with('+')) text.remove_prefix(1);
    const std::string_view digits = text.starts_with('-') ? text.substr(1) : text;
    if (digits.empty() || !(is_digit(digits.front()) || digits.front() == '.')) return std::nullopt;
    const std::size_t point = digits.find('.');
    if (point != std::string_view::npos && (point + 1 == digits.size() || !is_digit(digits[point + 1])))
        return std::nullopt;
    double value = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (fault != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

std::optional<Scale> scale_by_largest(const std::vector<Spectrum>& spectra, const Reader& reader) {
    const Point* most = nullptr;
    std::size_t all = 0, large = 0;
    for (const Spectrum& s : spectra)
        for (const Point& p : s.points) {
            ++all;
            if (p.value > kLargestFraction) ++large;
            if (!most || p.value > most->value) most = &p;
        }
    const bool percent = large > 0;
    constexpr double kDimPercent = 5;  // a file this dark throughout may as well be fractions gone wrong
    const std::string hint =
        "call the fields SPECTRAL_PCT or SPECTRAL_DEC, or write % or fraction in the header";
    if (percent &&
        (large < kFewest || static_cast<double>(large) < kFewestShare * static_cast<double>(all))) {
        reader.error(
            "R013", most->place,
            fmt::format("{} is no fraction, but nearly all other values look like fractions", most->value),
            "is its decimal point in the right place? if the file is in per cent: " + hint);
        return std::nullopt;
    }
    if (percent && most->value < kDimPercent)
        reader.warn(
            "R013", most->place,
            fmt::format("the largest value is {}: taken for per cent, but it is hard to tell", most->value),
            hint);
    return Scale{percent ? 100.0 : 1.0,
                 fmt::format("values are taken for {}: nothing says so, and the largest is {}",
                             percent ? "per cent" : "fractions of one", most ? most->value : 0)};
}

bool wavelengths_in_order(const std::vector<Point>& points, const Reader& reader) {
    for (const Point& p : points)
        if (p.nm < kShortest_nm || p.nm > kLongest_nm) {
            reader.error("R008", p.place, fmt::format("{} nm is no wavelength of a colour measurement", p.nm),
                         fmt::format("wavelengths lie from {} to {} nm", kShortest_nm, kLongest_nm));
            return false;
        }
    if (points.size() < 2) return true;
    const double way = points[1].nm > points[0].nm ? 1 : -1;
    double narrowest = 1e9, widest = 0;
    const Point* jump = nullptr;
    for (std::size_t i = 1; i < points.size(); ++i) {
        const double step = way * (points[i].nm - points[i - 1].nm);
        if (step <= 0) {
            reader.error("R009", points[i].place,
                         fmt::format("{} nm comes after {} nm", points[i].nm, points[i - 1].nm),
                         "every wavelength stands once, and they all rise or all fall");
            return false;
        }
        if (i > 1 && !jump && std::abs(step - (way * (points[1].nm - points[0].nm))) > kUnevenStep_nm)
            jump = &points[i];
        narrowest = std::min(narrowest, step);
        widest = std::max(widest, step);
    }
    if (widest - narrowest > kUnevenStep_nm)
        reader.warn("R010", jump ? jump->place : points.back().place,
                    fmt::format("the wavelengths are {} to {} nm apart", shown(narrowest), shown(widest)),
                    "most instruments measure in even steps: is a wavelength missing or mistyped?");
    return true;
}

bool settle(Spectrum& spectrum, double divisor, const Reader& reader) {
    std::vector<Point>& points = spectrum.points;
    std::stable_sort(points.begin(), points.end(),
                     [](const Point& a, const Point& b) { return a.nm < b.nm; });
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Point& p = points[i];
        const double value = p.value / divisor;
        if (p.nm < kShortest_nm || p.nm > kLongest_nm) {
            reader.error("R008", p.place, fmt::format("{} nm is no wavelength of a colour measurement", p.nm),
                         fmt::format("wavelengths lie from {} to {} nm", kShortest_nm, kLongest_nm));
            return false;
        }
        if (!(value > kLowest && value < kHighest)) {
            reader.error("R012", p.place,
                         fmt::format("{} at {} nm is no reflectance ({:.4g} %)", p.value, p.nm, 100 * value),
                         "reflectances lie above -10 % and below 300 %; the power of a light is none");
            return false;
        }
        if (i > 0 && p.nm == points[i - 1].nm && p.value != points[i - 1].value) {
            reader.error("R009", p.place,
                         fmt::format("{} nm has two values, {} and {}", p.nm, points[i - 1].value, p.value),
                         "leave one of them");
            return false;
        }
    }
    warn_if_odd(spectrum, divisor, reader);
    MeasuredSample& sample = spectrum.sample;
    for (const Point& p : points) {
        if (!sample.wavelengths_nm.empty() && sample.wavelengths_nm.back() == p.nm) continue;
        sample.wavelengths_nm.push_back(p.nm);
        sample.values.push_back(p.value / divisor);
    }
    if (sample.values.size() >= 2) {
        warn_if_narrow(sample, reader);
        return true;
    }
    reader.error("R020", sample.place, fmt::format("'{}' has fewer than two wavelengths", sample.name),
                 "a spectrum needs values at two wavelengths at least");
    return false;
}

bool settle_all(std::vector<Spectrum>& spectra, double divisor, const Reader& reader, MeasuredFile& file) {
    bool good = true;
    for (Spectrum& spectrum : spectra) good = settle(spectrum, divisor, reader) && good;
    if (!good) return false;
    const double most = largest(spectra) / divisor;
    if (!spectra.empty() && most < kDarkest)
        reader.warn("R013", spectra.front().points.front().place,
                    fmt::format("no value is above {:.3g} %: no paint is that dark", 100 * most),
                    "are these fractions that are called per cent?");
    for (Spectrum& spectrum : spectra) file.samples.push_back(std::move(spectrum.sample));
    return true;
}

std::string lower(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return out;
}

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view kBlank = " \t\r\n";
    const std::size_t first = text.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

std::string backing_of(std::string_view words) {
    const std::string low = lower(words);
    const bool black = low.find("black") != std::string::npos, white = low.find("white") != std::string::npos;
    return black == white ? "" : black ? "black" : "white";
}

}  // namespace fadewright::colour
