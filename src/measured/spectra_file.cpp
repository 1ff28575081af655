#include "fadewright/measured/spectra_file.h"

#include "cgats_table.h"
#include "fadewright/base/files.h"
#include "spectra_common.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace fadewright::measured {
namespace {

constexpr std::array kRules{
    Rule{"R001", "a file of spectra must be CGATS text, CxF3 or CSV"},
    Rule{"R002", "a quoted string must end on its line"},
    Rule{"R003", "every section of a CGATS file must be opened and closed"},
    Rule{"R004", "wrong number of fields"},
    Rule{"R005", "wrong number of samples"},
    Rule{"R006", "a sample needs a value for every field"},
    Rule{"R007", "a spectral field needs its wavelength"},
    Rule{"R008", "wavelengths must be from 200 to 1200 nm"},
    Rule{"R009", "every wavelength must be given once, in order"},
    Rule{"R010", "wavelengths should be evenly spaced"},
    Rule{"R011", "a measured value must be a number"},
    Rule{"R012", "a reflectance must be above -10 % and below 300 %"},
    Rule{"R013", "values must suit their scale, per cent or fraction"},
    Rule{"R014", "the header must agree with the fields"},
    Rule{"R015", "a CxF file must be valid XML without a document type"},
    Rule{"R016", "a CxF file must be of version 3"},
    Rule{"R017", "a spectrum's colour specification must exist"},
    Rule{"R018", "a spectrum needs its first wavelength and its increment"},
    Rule{"R019", "spectra with the same wavelengths must have the same length"},
    Rule{"R020", "a file of spectra must contain a spectrum"},
    Rule{"R021", "a CSV's first row must name its columns"},
    Rule{"R022", "a file must use one decimal mark"},
    Rule{"R023", "file too large"},
    Rule{"R024", "a thickness needs a known unit"},
    Rule{"R025", "only a reflectance is the colour of a surface"},
    Rule{"R026", "a spectrum should cover 450 to 650 nm"},
    Rule{"R027", "the last line of a CSV is incomplete"},
};

// All words that open or close a section of CGATS text, so that a file with one of them damaged is still
// recognised.
bool is_cgats(const std::vector<TokenLine>& lines) {
    return std::any_of(lines.begin(), lines.end(), [](const TokenLine& line) {
        return !line.empty() && !line.front().quoted && is_section_keyword(line.front().text);
    });
}

bool is_text(const std::string& text) {
    return std::none_of(text.begin(), text.end(), [](char c) {
        return static_cast<unsigned char>(c) < 32 && c != '\t' && c != '\n' && c != '\r' && c != '\f';
    });
}

}  // namespace

std::span<const Rule> measured_rules() { return kRules; }

std::optional<MeasuredFile> read_measured_file(const std::shared_ptr<const Source>& source,
                                               Diagnostics& diagnostics) {
    const SpectraReader reader{source, diagnostics};
    const std::string& text = source->text();
    if (text.size() > kTextFileLimit_bytes) {
        reader.error("R023", reader.span_at(0, 0), "the file is larger than 4 MiB",
                     "save fewer samples per file");
        return std::nullopt;
    }
    if (!is_text(text)) {
        reader.error("R001", reader.span_at(0, 0), "the file is not UTF-8 text",
                     "export the measurements as CGATS text, CxF3 or CSV");
        return std::nullopt;
    }
    MeasuredFile file;
    bool good = false;
    if (trim(text).starts_with('<')) {
        file.format = "CxF3";
        good = read_cxf(reader, file);
    } else if (is_cgats(tokenise(text))) {
        file.format = "CGATS text";
        good = read_cgats(reader, file);
    } else {
        file.format = "CSV";
        good = read_csv(reader, file);
    }
    if (good && file.samples.empty()) {
        reader.error("R020", reader.span_at(0, 0), "the file has no spectra",
                     "export spectral data, not only colour values");
        good = false;
    }
    if (!good) return std::nullopt;
    for (const MeasuredSample& sample : file.samples)
        if (sample.measurement != Measurement::reflectance)
            reader.warn("R025", sample.span,
                        fmt::format("'{}' is {}", sample.name,
                                    sample.measurement == Measurement::power ? "the power of a light"
                                                                             : "a transmittance"),
                        "its colour as a surface is meaningless");
    return file;
}

colour::Reflectance resample_to_bands(const MeasuredSample& sample) {
    return {colour::resample(sample.wavelengths_nm, sample.values)};
}

}  // namespace fadewright::measured
