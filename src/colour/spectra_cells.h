// CSV taken apart into rows and cells.
#pragma once

#include "spectra_parts.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::colour {

struct Cell {
    std::string text;  // trimmed, without quotation marks
    Place place;
};

using Row = std::vector<Cell>;

struct Cells {
    char separator = ',';
    std::vector<Row> rows;      // those with text; lines beginning with # are comments
    std::optional<Place> open;  // a cell whose quotation mark is not closed; no rows from there on
};

// The separator is the first of tab, semicolon and comma that the first row has.
[[nodiscard]] Cells cells_of(const Reader& reader);

// Numbers of one file: a decimal point, or a decimal comma where the separator is no comma; never both.
class CellNumbers {
public:
    CellNumbers(const Reader& reader, char separator) : reader_(reader), separator_(separator) {}

    // Nothing if it is no number; nothing is reported.
    [[nodiscard]] std::optional<double> number(const Cell& cell) const;

    // The same, but reported (R011, R022).
    [[nodiscard]] std::optional<double> wanted(const Cell& cell);

    [[nodiscard]] bool has_comma() const { return comma_; }

private:
    const Reader& reader_;
    char separator_;
    bool point_ = false, comma_ = false;
};

}  // namespace fadewright::colour
