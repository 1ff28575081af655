// One table of a CGATS file as it is written: keywords, names of fields, rows.
#pragma once

#include "spectra_parts.h"
#include "spectra_words.h"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::colour {

struct Keyword {
    std::string value;
    Place place;
};

struct CgatsTable {
    std::map<std::string, Keyword> keywords;  // the last of those repeated
    std::vector<Word> fields;
    std::vector<std::vector<Word>> rows;  // as wide as the fields
    Place place;                          // of BEGIN_DATA_FORMAT

    [[nodiscard]] const Keyword* find(const std::string& name) const;
    [[nodiscard]] std::string value(const std::string& name) const;  // or empty
};

// Nothing if a section is not closed, a count is not as announced or a row is too short or too long.
[[nodiscard]] std::optional<std::vector<CgatsTable>> tables_of(const Reader& reader);

}  // namespace fadewright::colour
