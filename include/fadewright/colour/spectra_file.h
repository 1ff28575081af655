// Measured spectra, read from the files that instruments and colour programs write.
//
// Formats, told apart by content:
//
//     CGATS text  (CGATS.17, ISO 28178 and its dialects) fields named by wavelength: SPEC_400, SPECTRAL_400,
//                 SPECTRAL_NM400, NM400 and the like; pairs SPECTRAL_NM SPECTRAL_PCT; wavelengths times
//                 1000; steps that are no whole number (SPECTRAL_START_NM, _END_NM and _BANDS)
//     CxF3        (ISO 17972, XML) reflectance spectra with their geometry, backing and thickness
//     CSV         wavelengths along the first row, or down the first column; comma, semicolon or tab;
//                 decimal comma beside semicolon or tab
//
// A wrong spectrum is worse than none. Whatever does not add up (counts, wavelengths, values) is an error
// with its place and nothing is returned; whatever is odd but readable is a warning; whatever had to be
// assumed, above all whether values are per cent or fractions, is a plain sentence in `decisions`.
//
// Per cent or fraction: the field's name (PCT, DEC), else SPECTRAL_NORM or QUANTITY, else per cent if the
// largest value of the file is above kLargestFraction; a file where only a stray value is, is refused. CxF3
// holds fractions always.
//
// Source: [cgats17], [iso28178] (keywords), [iso17972] (CxF3 core schema 3.0), and files that follow them.
// Holds for  UTF-8 and Latin-1 text up to 4 MiB; wavelengths from 200 to 1200 nm; reflectances above
//            -0.1 and below 3 (effect finishes exceed 1)
// Checks     tests/colour/spectra_file_test.cpp (what is read), spectra_wrong_test.cpp (every rule),
//            spectra_damage_test.cpp (damaged copies)
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/text/diagnostic.h"

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::colour {

inline constexpr double kMaxFraction = 2.0;

// What the numbers are. Only a reflectance has the colour of a surface.
enum class Measurement { reflectance, transmittance, power };

struct MeasuredSample {
    std::string name;
    Measurement measurement = Measurement::reflectance;
    std::vector<double> wavelengths_nm;  // strictly increasing, at least two
    std::vector<double> values;          // fractions; effect finishes exceed 1
    std::string geometry;                // in words, as "sphere, specular included"; empty if not told
    std::string backing;                 // "black", "white" or empty
    std::optional<Micrometres> thickness;
    std::optional<double> aspecular_deg;     // of a multi-angle instrument
    std::optional<bool> bandpass_corrected;  // as told by the file
    SourceSpan span;                         // its name or first value in the file
};

struct MeasuredFile {
    std::string format;                    // "CGATS text", "CxF3" or "CSV"
    std::vector<std::string> assumptions;  // what was assumed, a sentence each
    std::vector<MeasuredSample> samples;   // at least one
};

// Nothing if anything was wrong; every mistake is in the diagnostics then.
[[nodiscard]] std::optional<MeasuredFile> read_measured_file(const std::shared_ptr<const Source>& source,
                                                             Diagnostics& diagnostics);

// The sample on the program's bands, by resampled() of colour/curve.h.
[[nodiscard]] Reflectance resample_to_bands(const MeasuredSample& sample);

[[nodiscard]] std::span<const Rule> measured_rules();

}  // namespace fadewright::colour
