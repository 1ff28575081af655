#include "cgats_table.h"

#include "spectra_common.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace fadewright::measured {
namespace {

bool is_blank(char c) noexcept { return c == ' ' || c == '\t' || c == '\f'; }
bool is_line_end(char c) noexcept { return c == '\n' || c == '\r'; }

// Reads from the opening quotation mark at `at`; returns the end of the word.
Token quoted_word(std::string_view text, std::size_t at) {
    Token token{"", at, at, true, true};
    for (++at; at < text.size() && !is_line_end(text[at]); ++at) {
        if (text[at] == '"') {
            if (at + 1 < text.size() && text[at + 1] == '"') {
                ++at;
            } else {
                token.unclosed = false;
                ++at;
                break;
            }
        }
        token.text += text[at];
    }
    token.end = at;
    return token;
}

Token bare_word(std::string_view text, std::size_t at) {
    const std::size_t begin = at;
    while (at < text.size() && !is_blank(text[at]) && !is_line_end(text[at])) ++at;
    return {std::string(text.substr(begin, at - begin)), begin, at, false, false};
}

struct Stem {
    std::string_view text;
    ValueUnit unit;
};

// Longer stems first, as some begin with a shorter one.
constexpr std::array<Stem, 6> kStems{{{"spectral_nm", ValueUnit::unspecified},
                                      {"spectral_pct", ValueUnit::percent},
                                      {"spectral_dec", ValueUnit::fraction},
                                      {"spectral", ValueUnit::unspecified},
                                      {"spec", ValueUnit::unspecified},
                                      {"nm", ValueUnit::unspecified}}};

struct Ending {
    std::string_view text;
    ValueUnit unit;
};
constexpr std::array<Ending, 2> kEndings{{{"_pct", ValueUnit::percent}, {"_dec", ValueUnit::fraction}}};

// Digits with at most one decimal point; no signs, no exponents.
std::optional<double> wavelength_of(std::string_view text) {
    if (text.find_first_not_of("0123456789.") != std::string_view::npos) return std::nullopt;
    return parse_number(text);
}

// Counts and wavelengths: if two of the same name disagree, one of them is wrong.
bool is_counted(const std::string& name) {
    return name.starts_with("NUMBER_OF_") || name == "SPECTRAL_BANDS" || name == "SPECTRAL_START_NM" ||
           name == "SPECTRAL_END_NM" || name == "SPECTRAL_NORM";
}

class TableReader {
public:
    explicit TableReader(const SpectraReader& reader) : reader_(reader) {}

    bool read() {
        for (const TokenLine& line : tokenise(reader_.text())) {
            for (const Token& token : line)
                if (token.unclosed)
                    reader_.warn("R002", span_of(token), "this string has no closing quotation mark",
                                 "add a quotation mark at its end");
            if (!take_line(line)) return false;
        }
        if (section_ == Section::header) return true;
        reader_.error(
            "R003", section_span_,
            section_ == Section::format ? "the list of fields is not closed" : "the data are not closed",
            section_ == Section::format ? "END_DATA_FORMAT is missing, or misspelt"
                                        : "END_DATA is missing, or misspelt: is the file cut off?");
        return false;
    }

    std::vector<CgatsTable> tables;

private:
    enum class Section { header, format, data };

    [[nodiscard]] SourceSpan span_of(const Token& token) const {
        return reader_.span_at(token.begin, token.end);
    }

    bool take_line(const TokenLine& line) {
        if (section_ == Section::data) return take_row(line);
        if (section_ == Section::header && !is_opening(line.front())) return take_keyword(line);
        for (const Token& token : line)
            if (!take_token(token)) return false;
        return true;
    }

    static bool is_opening(const Token& token) { return !token.quoted && is_section_keyword(token.text); }

    bool take_token(const Token& token) {
        if (!is_opening(token)) {
            if (section_ == Section::format) {
                table_.fields.push_back(token);
                return true;
            }
            return report_misplaced(token);
        }
        if (token.text == "BEGIN_DATA_FORMAT" && section_ == Section::header && table_.fields.empty()) {
            section_ = Section::format;
            section_span_ = table_.span = span_of(token);
            return true;
        }
        if (token.text == "END_DATA_FORMAT" && section_ == Section::format) {
            section_ = Section::header;
            return check_field_count();
        }
        if (token.text == "BEGIN_DATA" && section_ == Section::header && !table_.fields.empty()) {
            section_ = Section::data;
            section_span_ = span_of(token);
            return true;
        }
        return report_misplaced(token);
    }

    bool report_misplaced(const Token& token) const {
        reader_.error("R003", span_of(token), fmt::format("{} is out of place", token.text),
                      "use the order BEGIN_DATA_FORMAT, END_DATA_FORMAT, BEGIN_DATA, END_DATA");
        return false;
    }

    bool take_keyword(const TokenLine& line) {
        const std::string& name = line.front().text;
        std::string value;
        for (std::size_t i = 1; i < line.size(); ++i) value += (i > 1 ? " " : "") + line[i].text;
        const auto before = table_.keywords.find(name);
        if (before != table_.keywords.end() && is_counted(name) && before->second.value != value) {
            reader_.error("R014", reader_.span_at(line.front().begin, line.back().end),
                          fmt::format("{} is {}, but was {} before", name, value, before->second.value),
                          "keep the right one");
            return false;
        }
        table_.keywords[name] = {value, reader_.span_at(line.front().begin, line.back().end)};
        return true;
    }

    // A row begins on a new line and may continue on the next ones.
    bool take_row(const TokenLine& line) {
        if (is_opening(line.front())) {
            if (line.front().text != "END_DATA" || line.size() > 1) return report_misplaced(line.front());
            return end_table();
        }
        row_.insert(row_.end(), line.begin(), line.end());
        if (row_.size() > table_.fields.size()) {
            reader_.error("R006", reader_.span_at(line.front().begin, line.back().end),
                          fmt::format("{} values, but {} are expected", row_.size(), table_.fields.size()),
                          "start every sample on a new line, with one value per field; put names with blanks "
                          "in quotation marks");
            return false;
        }
        if (row_.size() < table_.fields.size()) return true;
        table_.rows.push_back(std::move(row_));
        row_.clear();
        return true;
    }

    bool end_table() {
        if (!row_.empty()) {
            reader_.error("R006", reader_.span_at(row_.front().begin, row_.back().end),
                          fmt::format("{} values, but {} are expected", row_.size(), table_.fields.size()),
                          "give one value per field for every sample");
            return false;
        }
        if (!check_field_count()) return false;  // the count may come after the fields
        if (!check_count("NUMBER_OF_SETS", "R005", table_.rows.size(), "samples")) return false;
        const CgatsTable table = std::move(table_);
        table_ = {};
        for (const char* keyword_name : {"MEASUREMENT_GEOMETRY", "SAMPLE_BACKING", "MEAS_TYPE"})
            if (const Keyword* keyword = table.find(keyword_name)) table_.keywords[keyword_name] = *keyword;
        tables.push_back(table);
        section_ = Section::header;
        return true;
    }

    bool check_field_count() const {
        if (table_.fields.empty()) {
            reader_.error("R004", table_.span, "the list of fields is empty", "name the fields of the data");
            return false;
        }
        return check_count("NUMBER_OF_FIELDS", "R004", table_.fields.size(), "fields");
    }

    bool check_count(const char* name, std::string_view rule, std::size_t count, const char* items) const {
        const Keyword* keyword = table_.find(name);
        if (!keyword || parse_number(keyword->value) == static_cast<double>(count)) return true;
        reader_.error(rule, keyword->span,
                      fmt::format("{} {} found, but {} announced", count, items, keyword->value),
                      fmt::format("write {} {} if nothing is missing", name, count));
        return false;
    }

    const SpectraReader& reader_;
    Section section_ = Section::header;
    SourceSpan section_span_;
    CgatsTable table_;
    std::vector<Token> row_;
};

}  // namespace

std::vector<TokenLine> tokenise(std::string_view text) {
    std::vector<TokenLine> lines;
    TokenLine line;
    const auto end_line = [&] {
        if (!line.empty()) lines.push_back(std::move(line));
        line.clear();
    };
    for (std::size_t at = 0; at < text.size();) {
        if (is_line_end(text[at])) {
            end_line();
            ++at;
        } else if (is_blank(text[at])) {
            ++at;
        } else if (text[at] == '#') {
            while (at < text.size() && !is_line_end(text[at])) ++at;
        } else {
            line.push_back(text[at] == '"' ? quoted_word(text, at) : bare_word(text, at));
            at = line.back().end;
        }
    }
    end_line();
    return lines;
}

bool is_section_keyword(std::string_view token) {
    return token == "BEGIN_DATA_FORMAT" || token == "END_DATA_FORMAT" || token == "BEGIN_DATA" ||
           token == "END_DATA";
}

FieldMeaning parse_field(std::string_view field) {
    const std::string low = to_lower(field);
    if (low == "spectral_nm") return {FieldMeaning::Kind::pair_wavelength, 0, ValueUnit::unspecified};
    if (low == "spectral_pct") return {FieldMeaning::Kind::pair_value, 0, ValueUnit::percent};
    if (low == "spectral_dec") return {FieldMeaning::Kind::pair_value, 0, ValueUnit::fraction};
    const auto stem =
        std::find_if(kStems.begin(), kStems.end(), [&](const Stem& s) { return low.starts_with(s.text); });
    if (stem == kStems.end()) return {};
    std::string_view rest = std::string_view(low).substr(stem->text.size());
    FieldMeaning meaning{FieldMeaning::Kind::band, 0, stem->unit};
    if (rest.starts_with('_')) rest.remove_prefix(1);
    for (const Ending& ending : kEndings)
        if (rest.ends_with(ending.text)) {
            rest.remove_suffix(ending.text.size());
            meaning.unit = ending.unit;
        }
    if (const auto nm = wavelength_of(rest)) {
        meaning.nm = *nm;
        return meaning;
    }
    if (stem->text == "nm") return {};
    return {FieldMeaning::Kind::damaged, 0, ValueUnit::unspecified};
}

const Keyword* CgatsTable::find(const std::string& name) const {
    const auto found = keywords.find(name);
    return found == keywords.end() ? nullptr : &found->second;
}

std::string CgatsTable::value(const std::string& name) const {
    const Keyword* keyword = find(name);
    return keyword ? keyword->value : "";
}

std::optional<std::vector<CgatsTable>> parse_tables(const SpectraReader& reader) {
    TableReader tables(reader);
    if (!tables.read()) return std::nullopt;
    return std::move(tables.tables);
}

}  // namespace fadewright::measured
