// Splits CGATS text into lines and words.
#pragma once

#include "spectra_common.h"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::measured {

struct Token {
    std::string text;  // without its quotation marks; "" inside is one quotation mark
    std::size_t begin = 0;
    std::size_t end = 0;  // in the file, including the quotation marks
    bool quoted = false;
    bool unclosed = false;  // no closing quotation mark; it extends to the end of the line
};

using TokenLine = std::vector<Token>;

// Lines with words; # at the start of a word starts a comment.
[[nodiscard]] std::vector<TokenLine> tokenise(std::string_view text);

// BEGIN_DATA_FORMAT, END_DATA_FORMAT, BEGIN_DATA or END_DATA.
[[nodiscard]] bool is_section_keyword(std::string_view token);

// The meaning of the fields of a CGATS table, by their names.
enum class ValueUnit { unspecified, percent, fraction };

struct FieldMeaning {
    enum class Kind {
        other,            // not spectral
        band,             // the value at `nm`
        pair_wavelength,  // SPECTRAL_NM: the wavelength of the next field
        pair_value,       // SPECTRAL_PCT, SPECTRAL_DEC
        damaged           // starts like a spectral field but is not one
    };
    Kind kind = Kind::other;
    double nm = 0;  // as written; may be nanometres times 1000
    ValueUnit unit = ValueUnit::unspecified;
};

// Case is ignored. Wavelengths follow SPEC, SPECTRAL, SPECTRAL_NM, SPECTRAL_PCT,
// SPECTRAL_DEC or NM, with or without "_"; _PCT or _DEC may follow them.
[[nodiscard]] FieldMeaning parse_field(std::string_view field);

// One table of a CGATS file: keywords, names of fields, rows.
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

}  // namespace fadewright::measured
