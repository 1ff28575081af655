// CSV: one row per sample below a row of wavelengths, or one row per wavelength and one column per sample.

#include "cgats_fields.h"
#include "csv_cells.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace fadewright::colour {
namespace {

enum class SampleColumn { name, backing, geometry, thickness_um };

// Known columns in addition to the wavelengths.
constexpr std::array<std::pair<std::string_view, SampleColumn>, 8> kSampleColumns{
    {{"name", SampleColumn::name},
     {"sample", SampleColumn::name},
     {"sample_name", SampleColumn::name},
     {"sample_id", SampleColumn::name},
     {"id", SampleColumn::name},
     {"backing", SampleColumn::backing},
     {"geometry", SampleColumn::geometry},
     {"thickness_um", SampleColumn::thickness_um}}};
constexpr std::string_view kSampleColumnNames = "name, backing, geometry or thickness_um";

std::string assumption_of(ValueUnit unit) {
    return unit == ValueUnit::percent ? "values are per cent: stated in the header"
                                      : "values are fractions: stated in the header";
}

// The unit that a header cell gives for the values below it.
ValueUnit parse_unit(std::string_view text) {
    const std::string lower_case = to_lower(text);
    if (lower_case.find('%') != std::string::npos || lower_case.find("percent") != std::string::npos ||
        lower_case.find("pct") != std::string::npos)
        return ValueUnit::percent;
    return lower_case.find("fraction") != std::string::npos ? ValueUnit::fraction : ValueUnit::unspecified;
}

bool is_wavelength_heading(const Cell& cell) {
    const std::string lower_case = to_lower(cell.text);
    return lower_case == "nm" || lower_case == "wl" || lower_case.starts_with("wavelength") ||
           lower_case.starts_with("lambda");
}

bool report_unclosed(const SpectraReader& reader, const SourceSpan& cell) {
    reader.error("R002", cell, "this quotation mark has no partner before the next cell",
                 "write \"name\" with a quotation mark on either side");
    return false;
}

class CsvReader {
public:
    CsvReader(const SpectraReader& reader, const CsvCells& cells, MeasuredFile& file)
        : reader_(reader), cells_(cells), numbers_(reader, cells.separator), file_(file) {}

    bool read() {
        const CsvRow& first = cells_.rows.front();
        const auto wavelengths = std::count_if(
            first.begin(), first.end(), [&](const Cell& c) { return header_wavelength(c).has_value(); });
        const bool has_no_header = first.size() == 2 && numbers_.parse(first[0]) && numbers_.parse(first[1]);
        const bool along = wavelengths >= 2;
        if (!along && !is_wavelength_heading(first.front()) && !has_no_header) return report_unknown(first);
        if (cells_.unclosed) return report_unclosed(reader_, *cells_.unclosed);
        if (!(along ? read_rows(first) : read_columns(first, has_no_header))) return false;
        file_.assumptions.push_back(fmt::format("cells are separated by {}{}; wavelengths are {}",
                                                cells_.separator == '\t'  ? "tabs"
                                                : cells_.separator == ';' ? "semicolons"
                                                                          : "commas",
                                                numbers_.has_comma() ? ", decimal commas" : "",
                                                along ? "in the first row" : "in the first column"));
        const std::optional<Scale> scale =
            unit_ == ValueUnit::unspecified
                ? detect_scale(spectra_, reader_)
                : Scale{unit_ == ValueUnit::percent ? 100.0 : 1.0, assumption_of(unit_)};
        if (!scale) return false;
        file_.assumptions.push_back(scale->reason);
        return finalise_all(spectra_, scale->divisor, reader_, file_);
    }

private:
    bool report_unknown(const CsvRow& first) const {
        reader_.error("R001", first.front().span, "this is not a known file of spectra",
                      "CGATS text has BEGIN_DATA, CxF3 begins with <, and the first row of a CSV has the "
                      "wavelengths, or \"nm\" and the names of the samples");
        return false;
    }

    // A wavelength in a header: 400, "400 nm", or a name as in CGATS.
    std::optional<double> header_wavelength(const Cell& cell) const {
        const FieldMeaning meaning = parse_field(cell.text);
        if (meaning.kind == FieldMeaning::Kind::band) return meaning.nm;
        std::string text = to_lower(cell.text);
        if (text.ends_with("nm")) text = std::string(trim(std::string_view(text).substr(0, text.size() - 2)));
        constexpr double kMinHeader_nm = 100;  // lowest number read as a wavelength; bounds are checked later
        const auto nm = numbers_.parse({text, cell.span});
        return nm && *nm >= kMinHeader_nm ? nm : std::nullopt;
    }

    bool take_unit(ValueUnit unit, const Cell& cell) {
        if (unit == ValueUnit::unspecified) return true;
        if (unit_ != ValueUnit::unspecified && unit != unit_) {
            reader_.error("R013", cell.span, "per cent and fractions are mixed", "use one of them in a file");
            return false;
        }
        unit_ = unit;
        return true;
    }

    // ---- wavelengths along the first row

    bool read_rows(const CsvRow& header) {
        std::vector<SampleColumn> sample_columns;
        std::vector<SpectralValue> named;
        for (const Cell& cell : header) {
            if (!take_unit(parse_unit(cell.text), cell)) return false;
            if (const auto nm = header_wavelength(cell)) {
                named.push_back({*nm, 0, cell.span});
                continue;
            }
            const auto known =
                std::find_if(kSampleColumns.begin(), kSampleColumns.end(),
                             [&](const auto& pair) { return pair.first == to_lower(cell.text); });
            const bool nameless = cell.text.empty() && &cell == &header.front();
            if (!named.empty() || (known == kSampleColumns.end() && !nameless)) {
                reader_.error(
                    "R021", cell.span,
                    named.empty() ? fmt::format("'{}' is neither a wavelength nor a known column", cell.text)
                                  : fmt::format("'{}' is among the wavelengths", cell.text),
                    fmt::format("the first row has {}, then the wavelengths in nm", kSampleColumnNames));
                return false;
            }
            sample_columns.push_back(nameless ? SampleColumn::name : known->second);
        }
        if (!check_wavelengths(named, reader_)) return false;
        for (std::size_t i = 1; i < cells_.rows.size(); ++i)
            if (!read_row(cells_.rows[i], sample_columns, named, i)) return false;
        return true;
    }

    bool check_width(const CsvRow& row, std::size_t width) const {
        if (row.size() == width) return true;
        reader_.error("R006", row.front().span,
                      fmt::format("{} cells, but {} are expected", row.size(), width),
                      cells_.separator == ',' ? "give one value per column; with decimal commas, separate "
                                                "the cells by semicolons"
                                              : "give one value per column");
        return false;
    }

    bool read_row(const CsvRow& row, const std::vector<SampleColumn>& sample_columns,
                  const std::vector<SpectralValue>& named, std::size_t number) {
        if (!check_width(row, sample_columns.size() + named.size())) return false;
        RawSpectrum spectrum;
        spectrum.sample.name = fmt::format("sample {}", number);
        spectrum.sample.span = row.front().span;
        for (std::size_t i = 0; i < sample_columns.size(); ++i)
            if (!take_sample_cell(sample_columns[i], row[i], spectrum.sample)) return false;
        for (std::size_t i = 0; i < named.size(); ++i) {
            const Cell& cell = row[sample_columns.size() + i];
            const auto value = numbers_.require(cell);
            if (!value) return false;
            spectrum.values.push_back({named[i].nm, *value, cell.span});
        }
        spectra_.push_back(std::move(spectrum));
        return true;
    }

    bool take_sample_cell(SampleColumn column, const Cell& cell, MeasuredSample& sample) {
        if (cell.text.empty()) return true;
        if (column == SampleColumn::name) sample.name = to_utf8(cell.text);
        if (column == SampleColumn::backing) sample.backing = parse_backing(cell.text);
        if (column == SampleColumn::geometry) sample.geometry = to_utf8(cell.text);
        if (column != SampleColumn::thickness_um) return true;
        const auto um = numbers_.require(cell);
        if (um) sample.thickness = Micrometres{*um};
        return um.has_value();
    }

    // ---- wavelengths in the first column

    bool read_columns(const CsvRow& first, bool has_no_header) {
        for (std::size_t i = 1; i < first.size(); ++i) {
            RawSpectrum spectrum;
            spectrum.sample.name =
                has_no_header || first[i].text.empty() ? fmt::format("sample {}", i) : to_utf8(first[i].text);
            spectrum.sample.span = first[i].span;
            if (!has_no_header && !take_unit(parse_unit(first[i].text), first[i])) return false;
            spectra_.push_back(std::move(spectrum));
        }
        std::vector<SpectralValue> wavelengths;
        for (std::size_t r = has_no_header ? 0 : 1; r < cells_.rows.size(); ++r) {
            const CsvRow& row = cells_.rows[r];
            if (!check_width(row, first.size())) return false;
            const auto nm = numbers_.require(row.front());
            if (!nm) return false;
            wavelengths.push_back({*nm, 0, row.front().span});
            for (std::size_t i = 1; i < row.size(); ++i) {
                const auto value = numbers_.require(row[i]);
                if (!value) return false;
                spectra_[i - 1].values.push_back({*nm, *value, row[i].span});
            }
        }
        return check_wavelengths(wavelengths, reader_);
    }

    const SpectraReader& reader_;
    const CsvCells& cells_;
    CellNumberParser numbers_;
    MeasuredFile& file_;
    ValueUnit unit_ = ValueUnit::unspecified;
    std::vector<RawSpectrum> spectra_;
};

}  // namespace

bool read_csv(const SpectraReader& reader, MeasuredFile& file) {
    const CsvCells cells = split_cells(reader);
    if (cells.rows.empty() && cells.unclosed) return report_unclosed(reader, *cells.unclosed);
    if (cells.rows.empty()) {
        reader.error("R020", reader.span_at(0, 0), "this file is empty", "export the measurements again");
        return false;
    }
    // Without counts, a missing line end is the only sign that the last value may be truncated.
    const std::string& text = reader.text();
    if (text.back() != '\n' && text.back() != '\r')
        reader.warn("R027", cells.rows.back().back().span, "the last line has no line end",
                    "is the file cut off? if not, add a line end");
    return CsvReader(reader, cells, file).read();
}

}  // namespace fadewright::colour
