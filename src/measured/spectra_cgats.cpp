// CGATS text: spectra from tables of words.
#include "cgats_table.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::measured {
namespace {

// Wavelengths from the names of CGATS fields and from the header.

constexpr double kRounding_nm = 1.001;     // names are whole nanometres, rounded or truncated
constexpr double kEndRounding_nm = 0.501;  // the ends are exact or rounded

bool is_evenly_spaced(const std::vector<SpectralValue>& points) {
    for (std::size_t i = 2; i < points.size(); ++i)
        if (std::abs((points[i].nm - points[i - 1].nm) - (points[1].nm - points[0].nm)) > 1e-9) return false;
    return true;
}

// The wavelengths of the header, if it has all three numbers.
std::optional<std::vector<double>> header_wavelengths(const CgatsTable& table) {
    const auto start = parse_number(table.value("SPECTRAL_START_NM"));
    const auto end = parse_number(table.value("SPECTRAL_END_NM"));
    const auto bands = parse_number(table.value("SPECTRAL_BANDS"));
    constexpr double kMaxBands = 10'000;
    if (!start || !end || !bands || *bands < 2 || *bands > kMaxBands) return std::nullopt;
    std::vector<double> grid(static_cast<std::size_t>(*bands));
    const double step = (*end - *start) / static_cast<double>(grid.size() - 1);
    for (std::size_t i = 0; i < grid.size(); ++i) grid[i] = *start + step * static_cast<double>(i);
    return grid;
}

bool matches_names(const std::vector<SpectralValue>& field_values, const std::vector<double>& grid) {
    if (field_values.size() != grid.size()) return false;
    if (std::abs(field_values.front().nm - grid.front()) > kEndRounding_nm) return false;
    if (std::abs(field_values.back().nm - grid.back()) > kEndRounding_nm) return false;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (std::abs(field_values[i].nm - grid[i]) > kRounding_nm) return false;
    return true;
}

// Some programs name fields by wavelengths times 1000, SPEC_380000.
void divide_scaled_wavelengths(std::vector<SpectralValue>& field_values, MeasuredFile& file) {
    constexpr double kFactor = 1000, kMinScaled = 100'000;
    const bool all = std::all_of(field_values.begin(), field_values.end(),
                                 [](const SpectralValue& p) { return p.nm >= kMinScaled; });
    if (!all) return;
    for (SpectralValue& p : field_values) p.nm /= kFactor;
    file.assumptions.push_back(fmt::format("field names are wavelengths times {}", kFactor));
}

// SPECTRAL_START_NM, _END_NM and _BANDS: if the names are the rounded wavelengths of the header, the
// header is used. If they contradict, evenly spaced names are used with a warning; others are an error
// (false).
bool apply_header_wavelengths(std::vector<SpectralValue>& field_values, const CgatsTable& table,
                              const SpectraReader& reader, MeasuredFile& file) {
    const auto grid = header_wavelengths(table);
    const bool is_even = is_evenly_spaced(field_values);
    if (!grid) {
        if (!is_even)
            reader.warn("R010", field_values[1].span,
                        "the wavelengths of the fields are not evenly spaced; they may be rounded",
                        "add SPECTRAL_BANDS, SPECTRAL_START_NM and SPECTRAL_END_NM for exact wavelengths");
        return true;
    }
    if (matches_names(field_values, *grid)) {
        if (is_even) return true;
        for (std::size_t i = 0; i < field_values.size(); ++i) field_values[i].nm = (*grid)[i];
        file.assumptions.push_back(fmt::format(
            "wavelengths: every {:.4g} nm from {} to {}, from the header; the field names are rounded",
            (*grid)[1] - (*grid)[0], grid->front(), grid->back()));
        return true;
    }
    const Keyword* bands = table.find("SPECTRAL_BANDS");
    const std::string message = fmt::format(
        "the header gives {} wavelengths from {} to {} nm, the fields give {} from {} to {} nm", grid->size(),
        grid->front(), grid->back(), field_values.size(), field_values.front().nm, field_values.back().nm);
    if (is_even) {
        reader.warn("R014", bands->span, message, "the field names are used; correct the header");
        return true;
    }
    reader.error("R014", bands->span, message,
                 "correct SPECTRAL_BANDS, SPECTRAL_START_NM or SPECTRAL_END_NM");
    return false;
}

// The spectral fields of a table.
struct Columns {
    std::vector<std::size_t> values;       // fields with values
    std::vector<std::size_t> wavelengths;  // fields with their wavelengths; empty if the names give them
    std::vector<SpectralValue> named;      // or the wavelengths from the field names
    ValueUnit unit = ValueUnit::unspecified;
};

class CgatsSpectra {
public:
    CgatsSpectra(const SpectraReader& reader, const CgatsTable& table, MeasuredFile& file)
        : reader_(reader), table_(table), file_(file) {}

    [[nodiscard]] bool has_spectra() const { return !columns_.values.empty(); }

    bool read_columns() {
        bool good = true;
        for (std::size_t i = 0; i < table_.fields.size(); ++i) good = take_field(i) && good;
        return good && check_columns() && (columns_.wavelengths.empty() ? check_wavelength_names() : true);
    }

    bool read_rows() {
        std::vector<RawSpectrum> spectra;
        for (std::size_t i = 0; i < table_.rows.size(); ++i) {
            RawSpectrum spectrum;
            if (!read_row(i, spectrum)) return false;
            spectra.push_back(std::move(spectrum));
        }
        const std::optional<Scale> scale = find_scale(spectra);
        if (!scale) return false;
        if (!spectra.empty()) file_.assumptions.push_back(scale->reason);
        return finalise_all(spectra, scale->divisor, reader_, file_);
    }

private:
    [[nodiscard]] SourceSpan span_of(const Token& token) const {
        return reader_.span_at(token.begin, token.end);
    }

    bool report_wrong_field(std::size_t i, std::string message) const {
        reader_.error("R007", span_of(table_.fields[i]), std::move(message),
                      "write SPEC_400, SPECTRAL_NM400, SPECTRAL_400 or NM400, or pairs of SPECTRAL_NM and "
                      "SPECTRAL_PCT or SPECTRAL_DEC");
        return false;
    }

    bool take_field(std::size_t i) {
        const Token& field = table_.fields[i];
        const FieldMeaning meaning = parse_field(field.text);
        using Kind = FieldMeaning::Kind;
        if (meaning.kind == Kind::other) return true;
        if (meaning.kind == Kind::damaged)
            return report_wrong_field(i, fmt::format("'{}' has no wavelength", field.text));
        const bool after_wavelength = columns_.wavelengths.size() > columns_.values.size();
        if (meaning.kind == Kind::pair_wavelength) {
            if (after_wavelength) return report_wrong_field(i, "a wavelength follows another wavelength");
            if (!columns_.named.empty())
                return report_wrong_field(i, "pairs and named wavelengths are mixed");
            columns_.wavelengths.push_back(i);
            return true;
        }
        if (meaning.kind == Kind::pair_value && (!after_wavelength || columns_.wavelengths.back() + 1 != i))
            return report_wrong_field(i, "this value has no SPECTRAL_NM before it");
        if (meaning.kind == Kind::band) {
            if (!columns_.wavelengths.empty())
                return report_wrong_field(i, "pairs and named wavelengths are mixed");
            columns_.named.push_back({meaning.nm, 0, span_of(field)});
        }
        if (!columns_.values.empty() && meaning.unit != columns_.unit)
            return report_wrong_field(i, "fields in per cent and in fractions are mixed");
        columns_.unit = meaning.unit;
        columns_.values.push_back(i);
        return true;
    }

    // A field that is nearly a spectral one, or is among them, is a damaged one: without it the spectrum
    // would have a hidden gap.
    bool check_columns() const {
        if (columns_.wavelengths.size() > columns_.values.size())
            return report_wrong_field(columns_.wavelengths.back(), "this wavelength has no value after it");
        if (columns_.values.empty()) return true;
        const std::size_t first =
            columns_.wavelengths.empty() ? columns_.values.front() : columns_.wavelengths.front();
        const std::size_t last = columns_.values.back();
        for (std::size_t i = 0; i < table_.fields.size(); ++i) {
            const std::string& name = table_.fields[i].text;
            if (parse_field(name).kind != FieldMeaning::Kind::other) continue;
            if (i > first && i < last)
                return report_wrong_field(i, fmt::format("'{}' is among the spectral fields", name));
            if (i + 1 != first && i != last + 1) continue;
            const std::string is_near = table_.fields[i < first ? first : last].text;
            if (!closest_name(name, {is_near}).empty())
                return report_wrong_field(
                    i, fmt::format("'{}' is nearly the same as '{}' next to it", name, is_near));
        }
        return true;
    }

    bool check_wavelength_names() {
        if (columns_.named.empty()) return true;
        divide_scaled_wavelengths(columns_.named, file_);
        return check_wavelengths(columns_.named, reader_) &&
               apply_header_wavelengths(columns_.named, table_, reader_, file_);
    }

    std::optional<double> parse_value(const Token& token, std::string_view kind_name) const {
        const std::optional<double> number = token.quoted ? std::nullopt : parse_number(token.text);
        if (!number)
            reader_.error("R011", span_of(token), fmt::format("'{}' is not a {}", token.text, kind_name),
                          "write a number with a decimal point, such as 0.25 or 25.0");
        return number;
    }

    bool read_row(std::size_t row_index, RawSpectrum& spectrum) {
        const std::vector<Token>& row = table_.rows[row_index];
        for (std::size_t k = 0; k < columns_.values.size(); ++k) {
            const Token& token = row[columns_.values[k]];
            SpectralValue point{0, 0, span_of(token)};
            if (columns_.wavelengths.empty()) {
                point.nm = columns_.named[k].nm;
            } else {
                const auto nm = parse_value(row[columns_.wavelengths[k]], "wavelength");
                if (!nm) return false;
                point.nm = *nm;
            }
            const auto value = parse_value(token, "value");
            if (!value) return false;
            point.value = *value;
            spectrum.values.push_back(point);
        }
        if (!columns_.wavelengths.empty()) {
            if (!check_wavelengths(spectrum.values, reader_)) return false;
        }
        describe(row_index, spectrum);
        return true;
    }

    void describe(std::size_t row_index, RawSpectrum& spectrum) const {
        MeasuredSample& sample = spectrum.sample;
        sample.name = fmt::format("sample {}", row_index + 1);
        sample.span = spectrum.values.front().span;
        for (const char* field : {"SAMPLE_NAME", "SAMPLE_ID", "SAMPLE_LOC"}) {
            const auto found = std::find_if(table_.fields.begin(), table_.fields.end(),
                                            [&](const Token& token) { return token.text == field; });
            if (found == table_.fields.end()) continue;
            const Token& token =
                table_.rows[row_index][static_cast<std::size_t>(found - table_.fields.begin())];
            if (trim(token.text).empty()) continue;
            sample.name = to_utf8(trim(token.text));
            sample.span = span_of(token);
            break;
        }
        sample.geometry = to_utf8(table_.value("MEASUREMENT_GEOMETRY"));
        sample.backing = parse_backing(table_.value("SAMPLE_BACKING"));
        const std::string kind = to_lower(table_.value("MEAS_TYPE"));
        if (kind.starts_with("transmi")) sample.measurement = Measurement::transmittance;
        if (kind.starts_with("emis") || kind.starts_with("ambient")) sample.measurement = Measurement::power;
    }

    // Empty after an error.
    std::optional<Scale> find_scale(const std::vector<RawSpectrum>& spectra) const {
        if (columns_.unit == ValueUnit::percent)
            return Scale{100, "values are per cent: their fields are named PCT"};
        if (columns_.unit == ValueUnit::fraction)
            return Scale{1, "values are fractions: their fields are named DEC"};
        if (const Keyword* norm = table_.find("SPECTRAL_NORM")) return scale_by_norm(*norm);
        const std::string quantity = to_lower(table_.value("QUANTITY"));
        if (quantity.find("percent") != std::string::npos || quantity.find('%') != std::string::npos)
            return Scale{100, "values are per cent: stated by QUANTITY"};
        if (quantity.find("fraction") != std::string::npos || quantity.find("decimal") != std::string::npos)
            return Scale{1, "values are fractions: stated by QUANTITY"};
        return detect_scale(spectra, reader_);
    }

    std::optional<Scale> scale_by_norm(const Keyword& norm) const {
        const std::optional<double> full_scale = parse_number(norm.value);
        if (!full_scale || *full_scale <= 0) {
            reader_.error("R013", norm.span, fmt::format("SPECTRAL_NORM is '{}'", norm.value),
                          "write the value of a perfect white: 1 or 100");
            return std::nullopt;
        }
        if (*full_scale != 1 && *full_scale != 100)
            reader_.warn("R013", norm.span,
                         fmt::format("SPECTRAL_NORM is {}, neither 1 nor 100", *full_scale),
                         "correct for some lights; a reflectance is a fraction of 1 or of 100");
        return Scale{*full_scale, fmt::format("a perfect white is {}: stated by SPECTRAL_NORM", *full_scale)};
    }

    const SpectraReader& reader_;
    const CgatsTable& table_;
    MeasuredFile& file_;
    Columns columns_;
};

}  // namespace

bool read_cgats(const SpectraReader& reader, MeasuredFile& file) {
    const auto tables = parse_tables(reader);
    if (!tables) return false;
    bool good = true;
    for (std::size_t i = 0; i < tables->size(); ++i) {
        CgatsSpectra spectra(reader, (*tables)[i], file);
        if (!spectra.read_columns()) {
            good = false;
        } else if (!spectra.has_spectra()) {
            file.assumptions.push_back(
                fmt::format("table {} of {} has no spectra and is ignored", i + 1, tables->size()));
        } else {
            good = spectra.read_rows() && good;
        }
    }
    return good;
}

}  // namespace fadewright::measured
