// CGATS text: tables of words become spectra.

#include "spectra_fields.h"
#include "spectra_grid.h"
#include "spectra_table.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::colour {
namespace {

// The spectral side of a table's fields.
struct Columns {
    std::vector<std::size_t> values;       // which fields hold values
    std::vector<std::size_t> wavelengths;  // the fields that say their wavelengths; empty if names do
    std::vector<Point> named;              // or the wavelengths the fields' names say
    ValueUnit unit = ValueUnit::unsaid;
};

class SpectraOfTable {
public:
    SpectraOfTable(const Reader& reader, const CgatsTable& table, MeasuredFile& file)
        : reader_(reader), table_(table), file_(file) {}

    [[nodiscard]] bool has_spectra() const { return !columns_.values.empty(); }

    bool read_columns() {
        bool good = true;
        for (std::size_t i = 0; i < table_.fields.size(); ++i) good = take_field(i) && good;
        return good && columns_together() && (columns_.wavelengths.empty() ? names_in_order() : true);
    }

    bool read_rows() {
        std::vector<Spectrum> spectra;
        for (std::size_t i = 0; i < table_.rows.size(); ++i) {
            Spectrum spectrum;
            if (!read_row(i, spectrum)) return false;
            spectra.push_back(std::move(spectrum));
        }
        const std::optional<Scale> scale = scale_of(spectra);
        if (!scale) return false;
        if (!spectra.empty()) file_.decisions.push_back(scale->why);
        return settle_all(spectra, scale->divisor, reader_, file_);
    }

private:
    [[nodiscard]] Place at(const Word& word) const { return reader_.at(word.begin, word.end); }

    bool wrong_field(std::size_t i, std::string message) const {
        reader_.error("R007", at(table_.fields[i]), std::move(message),
                      "write SPEC_400, SPECTRAL_NM400, SPECTRAL_400 or NM400, or pairs of SPECTRAL_NM and "
                      "SPECTRAL_PCT or SPECTRAL_DEC");
        return false;
    }

    bool take_field(std::size_t i) {
        const Word& field = table_.fields[i];
        const FieldMeaning meaning = meaning_of(field.text);
        using Kind = FieldMeaning::Kind;
        if (meaning.kind == Kind::other) return true;
        if (meaning.kind == Kind::damaged)
            return wrong_field(i, fmt::format("'{}' does not say its wavelength", field.text));
        const bool after_wavelength = columns_.wavelengths.size() > columns_.values.size();
        if (meaning.kind == Kind::pair_wavelength) {
            if (after_wavelength) return wrong_field(i, "a wavelength follows a wavelength");
            if (!columns_.named.empty()) return wrong_field(i, "pairs and named wavelengths are mixed");
            columns_.wavelengths.push_back(i);
            return true;
        }
        if (meaning.kind == Kind::pair_value && (!after_wavelength || columns_.wavelengths.back() + 1 != i))
            return wrong_field(i, "this value has no SPECTRAL_NM before it");
        if (meaning.kind == Kind::band) {
            if (!columns_.wavelengths.empty()) return wrong_field(i, "pairs and named wavelengths are mixed");
            columns_.named.push_back({meaning.nm, 0, at(field)});
        }
        if (!columns_.values.empty() && meaning.unit != columns_.unit)
            return wrong_field(i, "fields in per cent and in fractions are mixed");
        columns_.unit = meaning.unit;
        columns_.values.push_back(i);
        return true;
    }

    // A field that is nearly a spectral one, or stands among them, is a spectral one gone wrong: left out it
    // would leave a hole that nobody sees.
    bool columns_together() const {
        if (columns_.wavelengths.size() > columns_.values.size())
            return wrong_field(columns_.wavelengths.back(), "this wavelength has no value after it");
        if (columns_.values.empty()) return true;
        const std::size_t first =
            columns_.wavelengths.empty() ? columns_.values.front() : columns_.wavelengths.front();
        const std::size_t last = columns_.values.back();
        for (std::size_t i = 0; i < table_.fields.size(); ++i) {
            const std::string& name = table_.fields[i].text;
            if (meaning_of(name).kind != FieldMeaning::Kind::other) continue;
            if (i > first && i < last)
                return wrong_field(i, fmt::format("'{}' stands among the spectral fields", name));
            if (i + 1 != first && i != last + 1) continue;
            const std::string near = table_.fields[i < first ? first : last].text;
            if (!closest_name(name, {near}).empty())
                return wrong_field(i, fmt::format("'{}' is nearly '{}' beside it", name, near));
        }
        return true;
    }

    bool names_in_order() {
        if (columns_.named.empty()) return true;
        take_thousandths(columns_.named, file_);
        return wavelengths_in_order(columns_.named, reader_) &&
               take_announced_grid(columns_.named, table_, reader_, file_);
    }

    std::optional<double> number_in(const Word& word, std::string_view what) const {
        const std::optional<double> number = word.quoted ? std::nullopt : number_of(word.text);
        if (!number)
            reader_.error("R011", at(word), fmt::format("'{}' is no {}", word.text, what),
                          "write a number with a decimal point, as 0.25 or 25.0");
        return number;
    }

    bool read_row(std::size_t which, Spectrum& spectrum) {
        const std::vector<Word>& row = table_.rows[which];
        for (std::size_t k = 0; k < columns_.values.size(); ++k) {
            const Word& word = row[columns_.values[k]];
            Point point{0, 0, at(word)};
            if (columns_.wavelengths.empty()) {
                point.nm = columns_.named[k].nm;
            } else {
                const auto nm = number_in(row[columns_.wavelengths[k]], "wavelength");
                if (!nm) return false;
                point.nm = *nm;
            }
            const auto value = number_in(word, "value");
            if (!value) return false;
            point.value = *value;
            spectrum.points.push_back(point);
        }
        if (!columns_.wavelengths.empty()) {
            if (!wavelengths_in_order(spectrum.points, reader_)) return false;
        }
        describe(which, spectrum);
        return true;
    }

    void describe(std::size_t which, Spectrum& spectrum) const {
        MeasuredSample& sample = spectrum.sample;
        sample.name = fmt::format("sample {}", which + 1);
        sample.place = spectrum.points.front().place;
        for (const char* field : {"SAMPLE_NAME", "SAMPLE_ID", "SAMPLE_LOC"}) {
            const auto found = std::find_if(table_.fields.begin(), table_.fields.end(),
                                            [&](const Word& word) { return word.text == field; });
            if (found == table_.fields.end()) continue;
            const Word& word = table_.rows[which][static_cast<std::size_t>(found - table_.fields.begin())];
            if (trimmed(word.text).empty()) continue;
            sample.name = as_utf8(trimmed(word.text));
            sample.place = at(word);
            break;
        }
        sample.geometry = as_utf8(table_.value("MEASUREMENT_GEOMETRY"));
        sample.backing = backing_of(table_.value("SAMPLE_BACKING"));
        const std::string kind = lower(table_.value("MEAS_TYPE"));
        if (kind.starts_with("transmi")) sample.measurement = Measurement::transmittance;
        if (kind.starts_with("emis") || kind.starts_with("ambient")) sample.measurement = Measurement::power;
    }

    // Nothing after an error.
    std::optional<Scale> scale_of(const std::vector<Spectrum>& spectra) const {
        if (columns_.unit == ValueUnit::percent)
            return Scale{100, "values are per cent: their fields are called PCT"};
        if (columns_.unit == ValueUnit::fraction)
            return Scale{1, "values are fractions of one: their fields are called DEC"};
        if (const Keyword* norm = table_.find("SPECTRAL_NORM")) return scale_by_norm(*norm);
        const std::string quantity = lower(table_.value("QUANTITY"));
        if (quantity.find("percent") != std::string::npos || quantity.find('%') != std::string::npos)
            return Scale{100, "values are per cent: QUANTITY says so"};
        if (quantity.find("fraction") != std::string::npos || quantity.find("decimal") != std::string::npos)
            return Scale{1, "values are fractions of one: QUANTITY says so"};
        return scale_by_largest(spectra, reader_);
    }

    std::optional<Scale> scale_by_norm(const Keyword& norm) const {
        const std::optional<double> one = number_of(norm.value);
        if (!one || *one <= 0) {
            reader_.error("R013", norm.place, fmt::format("SPECTRAL_NORM is '{}'", norm.value),
                          "write the value of a perfect white: 1 or 100");
            return std::nullopt;
        }
        if (*one != 1 && *one != 100)
            reader_.warn("R013", norm.place, fmt::format("SPECTRAL_NORM is {}, neither 1 nor 100", *one),
                         "right for some lights; a reflectance is in fractions of 1 or of 100");
        return Scale{*one, fmt::format("a perfect white is {}: SPECTRAL_NORM says so", *one)};
    }

    const Reader& reader_;
    const CgatsTable& table_;
    MeasuredFile& file_;
    Columns columns_;
};

}  // namespace

bool read_cgats(const Reader& reader, MeasuredFile& file) {
    const auto tables = tables_of(reader);
    if (!tables) return false;
    bool good = true;
    for (std::size_t i = 0; i < tables->size(); ++i) {
        SpectraOfTable spectra(reader, (*tables)[i], file);
        if (!spectra.read_columns()) {
            good = false;
        } else if (!spectra.has_spectra()) {
            file.decisions.push_back(
                fmt::format("table {} of {} has no spectra and is left out", i + 1, tables->size()));
        } else {
            good = spectra.read_rows() && good;
        }
    }
    return good;
}

}  // namespace fadewright::colour
