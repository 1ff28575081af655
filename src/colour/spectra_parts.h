// What every reader of spectral files does the same way: numbers, wavelengths, scale, the last check.
#pragma once

#include "fadewright/colour/spectra_file.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::colour {

// The text being read, and where mistakes go.
struct Reader {
    std::shared_ptr<const Source> source;
    Diagnostics& diagnostics;

    [[nodiscard]] const std::string& text() const { return source->text(); }
    [[nodiscard]] Place at(std::size_t begin, std::size_t end) const { return {source, begin, end}; }
    void error(std::string_view rule, const Place& place, std::string message, std::string hint) const {
        diagnostics.error(std::string(rule), place, std::move(message), std::move(hint));
    }
    void warn(std::string_view rule, const Place& place, std::string message, std::string hint) const {
        diagnostics.warning(std::string(rule), place, std::move(message), std::move(hint));
    }
};

// One value of a spectrum as it is written, and where.
struct Point {
    double nm = 0;
    double value = 0;
    Place place;
};

struct Spectrum {
    MeasuredSample sample;  // without its wavelengths and values
    std::vector<Point> points;
};

// A number written with digits and a decimal point, digits on its right side: 12, -0.5, .25, 1.2e-3.
[[nodiscard]] std::optional<double> number_of(std::string_view text);

// Where the values stand when something is divided to make fractions of them, and why.
struct Scale {
    double divisor = 1;
    std::string why;  // a sentence for the decisions
};

// By the largest value. Nothing, after an error, where only stray values are above a fraction: one slip of a
// decimal point must not turn a whole file into per cent. Warns where a dark file leaves doubt.
[[nodiscard]] std::optional<Scale> scale_by_largest(const std::vector<Spectrum>& spectra,
                                                    const Reader& reader);

// Wavelengths in the order they are written: within bounds, all rising or all falling (else an error), in
// even steps (else a warning). False after an error.
[[nodiscard]] bool wavelengths_in_order(const std::vector<Point>& points, const Reader& reader);

// Sorts the points into the sample as fractions. Twice the same point counts once; two values at one
// wavelength and values no surface has are errors.
[[nodiscard]] bool settle(Spectrum& spectrum, double divisor, const Reader& reader);

// Settles all, then moves the samples to the file; warns of scales that fit no paint.
[[nodiscard]] bool settle_all(std::vector<Spectrum>& spectra, double divisor, const Reader& reader,
                              MeasuredFile& file);

[[nodiscard]] std::string lower(std::string_view text);
[[nodiscard]] std::string_view trimmed(std::string_view text);

// "black", "white" or empty, out of free words.
[[nodiscard]] std::string backing_of(std::string_view words);

// A name as UTF-8: what is not is taken for Latin-1.
[[nodiscard]] std::string as_utf8(std::string_view text);

// Each reader adds its samples and decisions; false if something was wrong.
[[nodiscard]] bool read_cgats(const Reader& reader, MeasuredFile& file);
[[nodiscard]] bool read_cxf(const Reader& reader, MeasuredFile& file);
[[nodiscard]] bool read_csv(const Reader& reader, MeasuredFile& file);

}  // namespace fadewright::colour
