// Reads files of measured spectra as instruments and colour programs write them.
//
// Formats, recognised by content:
//
//     CGATS text  (CGATS.17, ISO 28178 and its dialects) fields named by wavelength: SPEC_400, SPECTRAL_400,
//                 SPECTRAL_NM400, NM400 and similar; pairs SPECTRAL_NM SPECTRAL_PCT; wavelengths times
//                 1000; steps that are not integers (SPECTRAL_START_NM, _END_NM and _BANDS)
//     CxF3        (ISO 17972, XML) reflectance spectra with their geometry, backing and thickness
//     CSV         wavelengths along the first row, or down the first column; comma, semicolon or tab;
//                 decimal comma with semicolon or tab
//
// A wrong spectrum is worse than none. A contradiction (counts, wavelengths, values) is an error with its
// span and nothing is returned; unusual but readable data give a warning; every assumption, above all whether
// values are per cent or fractions, is a sentence in `assumptions`.
//
// Per cent or fraction: by the name of the field (PCT, DEC), then by SPECTRAL_NORM or QUANTITY, then per cent
// if the largest value of the file is above kMaxFraction; a file in which only an outlier is above it is
// refused. CxF3 always holds fractions.
//
// Source: [cgats17], [iso28178] (keywords), [iso17972] (CxF3 core schema 3.0), and files that follow them.
// Holds for  UTF-8 and Latin-1 text up to 4 MiB; wavelengths from 200 to 1200 nm; reflectances above
//            -0.1 and below 3 (effect finishes exceed 1)
// Checks     tests/measured/spectra_file_test.cpp (what is read), spectra_errors_test.cpp (every rule),
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

namespace fadewright::measured {

inline constexpr double kMaxFraction = 2.0;

// The measured quantity. Only a reflectance is the colour of a surface.
enum class Measurement { reflectance, transmittance, power };

struct MeasuredSample {
    std::string name;
    Measurement measurement = Measurement::reflectance;
    std::vector<double> wavelengths_nm;  // strictly increasing, at least two
    std::vector<double> values;          // fractions; effect finishes exceed 1
    std::string geometry;                // for example "sphere, specular included"; empty if not given
    std::string backing;                 // "black", "white" or empty
    std::optional<Micrometres> thickness;
    std::optional<double> aspecular_deg;     // of a multi-angle instrument
    std::optional<bool> bandpass_corrected;  // if the file states it
    SourceSpan span;                         // its name or first value in the file
};

struct MeasuredFile {
    std::string format;                    // "CGATS text", "CxF3" or "CSV"
    std::vector<std::string> assumptions;  // one sentence each
    std::vector<MeasuredSample> samples;   // at least one
};

// Empty if there was any error; all errors are in the diagnostics.
[[nodiscard]] std::optional<MeasuredFile> read_measured_file(const std::shared_ptr<const Source>& source,
                                                             Diagnostics& diagnostics);

// The sample on the program's bands (resample() in colour/spectrum.h).
[[nodiscard]] colour::Reflectance resample_to_bands(const MeasuredSample& sample);

[[nodiscard]] std::span<const Rule> measured_rules();

}  // namespace fadewright::measured
