#include "csv_cells.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::colour {
namespace {

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

}  // namespace

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

}  // namespace fadewright::colour
