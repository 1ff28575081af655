// CSV: one row per sample below a row of wavelengths, or one row per wavelength and one column per sample.
#include "cgats_table.h"
#include "spectra_common.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::measured {
namespace {

// Splits CSV into rows and cells.

struct Cell {
    std::string text;  // trimmed, without quotation marks
    SourceSpan span;
};

using CsvRow = std::vector<Cell>;

struct CsvCells {
    char separator = ',';
    std::vector<CsvRow> rows;            // rows with text; lines that start with # are comments
    std::optional<SourceSpan> unclosed;  // a cell without a closing quotation mark; no rows after it
};

// Numbers of one file: with a decimal point, or with a decimal comma if the separator is not a comma; never
// both.
class CellNumberParser {
public:
    CellNumberParser(const SpectraReader& reader, char separator) : reader_(reader), separator_(separator) {}

    // Empty if it is not a number; nothing is reported.
    [[nodiscard]] std::optional<double> parse(const Cell& cell) const;

    // The same with an error (R011, R022).
    [[nodiscard]] std::optional<double> require(const Cell& cell);

    [[nodiscard]] bool has_comma() const { return comma_; }

private:
    const SpectraReader& reader_;
    char separator_;
    bool point_ = false, comma_ = false;
};

char separator_of(std::string_view line) {
    for (const char c : {'\t', ';'})
        if (line.find(c) != std::string_view::npos) return c;
    return ',';
}

class LineSplitter {
public:
    LineSplitter(const SpectraReader& reader, std::size_t begin, std::size_t end, char separator)
        : reader_(reader), text_(reader.text()), offset_(begin), end_(end), separator_(separator) {}

    // Empty if there is no closing quotation mark.
    std::optional<CsvRow> read() {
        CsvRow row;
        while (true) {
            if (!read_cell(row)) return std::nullopt;
            if (offset_ >= end_) return row;
            ++offset_;  // the separator
        }
    }

    [[nodiscard]] const SourceSpan& unclosed() const { return unclosed_; }

private:
    bool read_cell(CsvRow& row) {
        std::size_t first = offset_;
        while (first < end_ && text_[first] == ' ') ++first;
        if (first < end_ && text_[first] == '"') return read_quoted(row, first);
        const std::size_t begin = offset_;
        offset_ = std::min(text_.find(separator_, offset_), end_);
        const std::string_view cell = trim(text_.substr(begin, offset_ - begin));
        const std::size_t offset =
            cell.empty() ? begin : static_cast<std::size_t>(cell.data() - text_.data());
        row.push_back({std::string(cell), reader_.span_at(offset, offset + cell.size())});
        return true;
    }

    bool read_quoted(CsvRow& row, std::size_t quote) {
        std::string cell;
        offset_ = quote + 1;
        for (; offset_ < end_; ++offset_) {
            if (text_[offset_] == '"') {
                if (offset_ + 1 >= end_ || text_[offset_ + 1] != '"') break;
                ++offset_;
            }
            cell += text_[offset_];
        }
        const std::size_t close = offset_;
        offset_ = std::min(offset_ + 1, end_);
        while (offset_ < end_ && text_[offset_] == ' ') ++offset_;
        if (close < end_ && (offset_ >= end_ || text_[offset_] == separator_)) {
            row.push_back({std::string(trim(cell)), reader_.span_at(quote, close + 1)});
            return true;
        }
        unclosed_ = reader_.span_at(quote, close);
        return false;
    }

    const SpectraReader& reader_;
    std::string_view text_;
    std::size_t offset_, end_;
    char separator_;
    SourceSpan unclosed_;
};

// The separator is the first of tab, semicolon and comma that the first row has.
CsvCells split_cells(const SpectraReader& reader) {
    CsvCells cells;
    const std::string_view text = reader.text();
    for (std::size_t begin = 0; begin < text.size();) {
        const std::size_t end = std::min(text.find_first_of("\r\n", begin), text.size());
        const std::string_view line = text.substr(begin, end - begin);
        const std::size_t next = end + 1;
        if (!trim(line).empty() && !trim(line).starts_with('#')) {
            if (cells.rows.empty()) cells.separator = separator_of(line);
            LineSplitter line_cells(reader, begin, end, cells.separator);
            auto row = line_cells.read();
            if (!row) {
                cells.unclosed = line_cells.unclosed();
                return cells;
            }
            const bool unquoted =
                std::all_of(row->begin(), row->end(), [](const Cell& c) { return c.text.empty(); });
            if (!unquoted) cells.rows.push_back(std::move(*row));
        }
        begin = next;
    }
    return cells;
}

std::optional<double> CellNumberParser::parse(const Cell& cell) const {
    std::string text = cell.text;
    if (separator_ != ',' && text.find('.') == std::string::npos &&
        std::count(text.begin(), text.end(), ',') == 1)
        text[text.find(',')] = '.';
    return parse_number(text);
}

std::optional<double> CellNumberParser::require(const Cell& cell) {
    const auto value = parse(cell);
    if (!value) {
        reader_.error(
            "R011", cell.span,
            cell.text.empty() ? "a value is missing" : fmt::format("'{}' is not a number", cell.text),
            "write a number such as 0.25 or 25.0; a decimal comma only with semicolons or tabs");
        return std::nullopt;
    }
    point_ = point_ || cell.text.find('.') != std::string::npos;
    comma_ = comma_ || cell.text.find(',') != std::string::npos;
    if (!point_ || !comma_) return value;
    reader_.error("R022", cell.span,
                  fmt::format("'{}' has a different decimal mark from the numbers before it", cell.text),
                  "use the point or the comma throughout");
    return std::nullopt;
}

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

}  // namespace fadewright::measured
