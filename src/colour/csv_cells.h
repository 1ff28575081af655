// CSV taken apart into rows and cells.
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
    std::vector<CsvRow> rows;            // those with text; lines beginning with # are comments
    std::optional<SourceSpan> unclosed;  // a cell whose quotation mark is not closed; no rows from there on
};

// The separator is the first of tab, semicolon and comma that the first row has.
[[nodiscard]] CsvCells split_cells(const SpectraReader& reader);

// Numbers of one file: a decimal point, or a decimal comma where the separator is no comma; never both.
class CellNumberParser {
public:
    CellNumberParser(const SpectraReader& reader, char separator) : reader_(reader), separator_(separator) {}

    // Nothing if it is no number; nothing is reported.
    [[nodiscard]] std::optional<double> parse(const Cell& cell) const;

    // The same, but reported (R011, R022).
    [[nodiscard]] std::optional<double> require(const Cell& cell);

    [[nodiscard]] bool has_comma() const { return comma_; }

private:
    const SpectraReader& reader_;
    char separator_;
    bool point_ = false, comma_ = false;
};

}  // namespace fadewright::colour
