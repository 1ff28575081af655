// Common parts of the readers of spectral files: numbers, wavelengths, scale, the final check.
#pragma once

#include "fadewright/base/strings.h"
#include "fadewright/measured/spectra_file.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::measured {

// The text of the file, and the diagnostics for its errors.
struct SpectraReader {
    std::shared_ptr<const Source> source;
    Diagnostics& diagnostics;

    [[nodiscard]] const std::string& text() const { return source->text(); }
    [[nodiscard]] SourceSpan span_at(std::size_t begin, std::size_t end) const {
        return {source, begin, end};
    }
    void error(std::string_view rule, const SourceSpan& span, std::string message, std::string hint) const {
        diagnostics.error(std::string(rule), span, std::move(message), std::move(hint));
    }
    void warn(std::string_view rule, const SourceSpan& span, std::string message, std::string hint) const {
        diagnostics.warning(std::string(rule), span, std::move(message), std::move(hint));
    }
};

// One value of a spectrum as written, and its span.
struct SpectralValue {
    double nm = 0;
    double value = 0;
    SourceSpan span;
};

struct RawSpectrum {
    MeasuredSample sample;  // without its wavelengths and values
    std::vector<SpectralValue> values;
};

// A number of digits with a decimal point that is followed by digits: 12, -0.5, .25, 1.2e-3.
[[nodiscard]] std::optional<double> parse_number(std::string_view text);

// The divisor that makes fractions of the values, and its reason.
struct Scale {
    double divisor = 1;
    std::string reason;  // a sentence for `assumptions`
};

// From the largest value. Empty, with an error, if only outliers are above a fraction: one misplaced decimal
// point must not turn a whole file into per cent. Warns if a dark file is uncertain.
[[nodiscard]] std::optional<Scale> detect_scale(const std::vector<RawSpectrum>& spectra,
                                                const SpectraReader& reader);

// Wavelengths in the order of the file: out of bounds or not all rising or all falling is an error, unequal
// steps are a warning. False after an error.
[[nodiscard]] bool check_wavelengths(const std::vector<SpectralValue>& values, const SpectraReader& reader);

// Sorts the points into the sample as fractions. Duplicate points count once; two values at one
// wavelength and impossible values are errors.
[[nodiscard]] bool finalise(RawSpectrum& spectrum, double divisor, const SpectraReader& reader);

// Finalises all samples and moves them to the file; warns of scales that suit no paint.
[[nodiscard]] bool finalise_all(std::vector<RawSpectrum>& spectra, double divisor,
                                const SpectraReader& reader, MeasuredFile& file);

[[nodiscard]] std::string to_lower(std::string_view text);

// "black", "white" or empty, from free text.
[[nodiscard]] std::string parse_backing(std::string_view text);

// Each reader adds its samples and assumptions; false after an error.
[[nodiscard]] bool read_cgats(const SpectraReader& reader, MeasuredFile& file);
[[nodiscard]] bool read_cxf(const SpectraReader& reader, MeasuredFile& file);
[[nodiscard]] bool read_csv(const SpectraReader& reader, MeasuredFile& file);

}  // namespace fadewright::measured
