// One table of a CGATS file: keywords, names of fields, rows.
#pragma once

#include "cgats_lexer.h"
#include "spectra_common.h"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::colour {

struct Keyword {
    std::string value;
    SourceSpan span;
};

struct CgatsTable {
    std::map<std::string, Keyword> keywords;  // the last one if repeated
    std::vector<Token> fields;
    std::vector<std::vector<Token>> rows;  // one cell per field
    SourceSpan span;                       // of BEGIN_DATA_FORMAT

    [[nodiscard]] const Keyword* find(const std::string& name) const;
    [[nodiscard]] std::string value(const std::string& name) const;  // or empty
};

// Empty if a section is not closed, a count is wrong or a row is too short or too long.
[[nodiscard]] std::optional<std::vector<CgatsTable>> parse_tables(const SpectraReader& reader);

}  // namespace fadewright::colour
