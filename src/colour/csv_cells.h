// Splits CSV into rows and cells.
#pragma once

#include "spectra_common.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::colour {

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

// The separator is the first of tab, semicolon and comma that the first row has.
[[nodiscard]] CsvCells split_cells(const SpectraReader& reader);

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

}  // namespace fadewright::colour
