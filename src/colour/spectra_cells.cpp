#include "spectra_cells.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::colour {
namespace {

char separator_of(std::string_view line) {
    for (const char c : {'\t', ';'})
        if (line.find(c) != std::string_view::npos) return c;
    return ',';
}

class LineCells {
public:
    LineCells(const Reader& reader, std::size_t begin, std::size_t end, char separator)
        : reader_(reader), text_(reader.text()), at_(begin), end_(end), separator_(separator) {}

    // Nothing where a quotation mark is left open.
    std::optional<Row> read() {
        Row row;
        while (true) {
            if (!read_cell(row)) return std::nullopt;
            if (at_ >= end_) return row;
            ++at_;  // the separator
        }
    }

    [[nodiscard]] const Place& open() const { return open_; }

private:
    bool read_cell(Row& row) {
        std::size_t first = at_;
        while (first < end_ && text_[first] == ' ') ++first;
        if (first < end_ && text_[first] == '"') return read_quoted(row, first);
        const std::size_t begin = at_;
        at_ = std::min(text_.find(separator_, at_), end_);
        const std::string_view cell = trimmed(text_.substr(begin, at_ - begin));
        const std::size_t offset =
            cell.empty() ? begin : static_cast<std::size_t>(cell.data() - text_.data());
        row.push_back({std::string(cell), reader_.at(offset, offset + cell.size())});
        return true;
    }

    bool read_quoted(Row& row, std::size_t quote) {
        std::string cell;
        at_ = quote + 1;
        for (; at_ < end_; ++at_) {
            if (text_[at_] == '"') {
                if (at_ + 1 >= end_ || text_[at_ + 1] != '"') break;
                ++at_;
            }
            cell += text_[at_];
        }
        const std::size_t close = at_;
        at_ = std::min(at_ + 1, end_);
        while (at_ < end_ && text_[at_] == ' ') ++at_;
        if (close < end_ && (at_ >= end_ || text_[at_] == separator_)) {
            row.push_back({std::string(trimmed(cell)), reader_.at(quote, close + 1)});
            return true;
        }
        open_ = reader_.at(quote, close);
        return false;
    }

    const Reader& reader_;
    std::string_view text_;
    std::size_t at_, end_;
    char separator_;
    Place open_;
};

}  // namespace

Cells cells_of(const Reader& reader) {
    Cells cells;
    const std::string_view text = reader.text();
    for (std::size_t begin = 0; begin < text.size();) {
        const std::size_t end = std::min(text.find_first_of("\r\n", begin), text.size());
        const std::string_view line = text.substr(begin, end - begin);
        const std::size_t next = end + 1;
        if (!trimmed(line).empty() && !trimmed(line).starts_with('#')) {
            if (cells.rows.empty()) cells.separator = separator_of(line);
            LineCells line_cells(reader, begin, end, cells.separator);
            auto row = line_cells.read();
            if (!row) {
                cells.open = line_cells.open();
                return cells;
            }
            const bool bare =
                std::all_of(row->begin(), row->end(), [](const Cell& c) { return c.text.empty(); });
            if (!bare) cells.rows.push_back(std::move(*row));
        }
        begin = next;
    }
    return cells;
}

std::optional<double> CellNumbers::number(const Cell& cell) const {
    std::string text = cell.text;
    if (separator_ != ',' && text.find('.') == std::string::npos &&
        std::count(text.begin(), text.end(), ',') == 1)
        text[text.find(',')] = '.';
    return number_of(text);
}

std::optional<double> CellNumbers::wanted(const Cell& cell) {
    const auto value = number(cell);
    if (!value) {
        reader_.error("R011", cell.place,
                      cell.text.empty() ? "a value is missing" : fmt::format("'{}' is no number", cell.text),
                      "write a number, as 0.25 or 25.0; a decimal comma only beside semicolon or tab");
        return std::nullopt;
    }
    point_ = point_ || cell.text.find('.') != std::string::npos;
    comma_ = comma_ || cell.text.find(',') != std::string::npos;
    if (!point_ || !comma_) return value;
    reader_.error("R022", cell.place,
                  fmt::format("'{}' has another decimal mark than the numbers before it", cell.text),
                  "use the point or the comma throughout");
    return std::nullopt;
}

}  // namespace fadewright::colour
