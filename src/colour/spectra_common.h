// What every reader of spectral files does the same way: numbers, wavelengths, scale, the last check.
#pragma once

#include "fadewright/colour/spectra_file.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::colour {

// The text being read, and where mistakes go.
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

// One value of a spectrum as it is written, and where.
struct SpectralValue {
    double nm = 0;
    double value = 0;
    SourceSpan span;
};

struct RawSpectrum {
    MeasuredSample sample;  // without its wavelengths and values
    std::vector<SpectralValue> values;
};

// A number written with digits and a decimal point, digits on its right side: 12, -0.5, .25, 1.2e-3.
[[nodiscard]] std::optional<double> parse_number(std::string_view text);

// Where the values stand when something is divided to make fractions of them, and why.
struct Scale {
    double divisor = 1;
    std::string reason;  // a sentence for the decisions
};

// By the largest value. Nothing, after an error, where only stray values are above a fraction: one slip of a
// decimal point must not turn a whole file into per cent. Warns where a dark file leaves doubt.
[[nodiscard]] std::optional<Scale> detect_scale(const std::vector<RawSpectrum>& spectra,
                                                const SpectraReader& reader);

// Wavelengths in the order they are written: within bounds, all rising or all falling (else an error), in
// even steps (else a warning). False after an error.
[[nodiscard]] bool check_wavelengths(const std::vector<SpectralValue>& points, const SpectraReader& reader);

// Sorts the points into the sample as fractions. Twice the same point counts once; two values at one
// wavelength and values no surface has are errors.
[[nodiscard]] bool finalise(RawSpectrum& spectrum, double divisor, const SpectraReader& reader);

// Settles all, then moves the samples to the file; warns of scales that fit no paint.
[[nodiscard]] bool finalise_all(std::vector<RawSpectrum>& spectra, double divisor,
                                const SpectraReader& reader, MeasuredFile& file);

[[nodiscard]] std::string to_lower(std::string_view text);
[[nodiscard]] std::string_view trim(std::string_view text);

// "black", "white" or empty, out of free words.
[[nodiscard]] std::string parse_backing(std::string_view text);

// A name as UTF-8: what is not is taken for Latin-1.
[[nodiscard]] std::string to_utf8(std::string_view text);

// Each reader adds its samples and decisions; false if something was wrong.
[[nodiscard]] bool read_cgats(const SpectraReader& reader, MeasuredFile& file);
[[nodiscard]] bool read_cxf(const SpectraReader& reader, MeasuredFile& file);
[[nodiscard]] bool read_csv(const SpectraReader& reader, MeasuredFile& file);

}  // namespace fadewright::colour
