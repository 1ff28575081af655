#include "spectra_table.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::colour {
namespace {

// Counts and wavelengths: where two of one name disagree, one of them is wrong.
bool is_counted(const std::string& name) {
    return name.starts_with("NUMBER_OF_") || name == "SPECTRAL_BANDS" || name == "SPECTRAL_START_NM" ||
           name == "SPECTRAL_END_NM" || name == "SPECTRAL_NORM";
}

class TableReader {
public:
    explicit TableReader(const Reader& reader) : reader_(reader) {}

    bool read() {
        for (const Line& line : lines_of(reader_.text())) {
            for (const Word& word : line)
                if (word.open)
                    reader_.warn("R002", at(word), "this string is not closed",
                                 "write a quotation mark at its end");
            if (!take(line)) return false;
        }
        if (section_ == Section::header) return true;
        reader_.error("R003", opened_,
                      section_ == Section::format ? "these fields are not closed" : "this data is not closed",
                      section_ == Section::format ? "END_DATA_FORMAT is missing, or misspelt"
                                                  : "END_DATA is missing, or misspelt: is the file cut off?");
        return false;
    }

    std::vector<CgatsTable> tables;

private:
    enum class Section { header, format, data };

    [[nodiscard]] Place at(const Word& word) const { return reader_.at(word.begin, word.end); }

    bool take(const Line& line) {
        if (section_ == Section::data) return take_row(line);
        if (section_ == Section::header && !is_opening(line.front())) return take_keyword(line);
        for (const Word& word : line)
            if (!take_word(word)) return false;
        return true;
    }

    static bool is_opening(const Word& word) { return !word.quoted && is_section_word(word.text); }

    bool take_word(const Word& word) {
        if (!is_opening(word)) {
            if (section_ == Section::format) {
                table_.fields.push_back(word);
                return true;
            }
            return misplaced(word);
        }
        if (word.text == "BEGIN_DATA_FORMAT" && section_ == Section::header && table_.fields.empty()) {
            section_ = Section::format;
            opened_ = table_.place = at(word);
            return true;
        }
        if (word.text == "END_DATA_FORMAT" && section_ == Section::format) {
            section_ = Section::header;
            return fields_as_announced();
        }
        if (word.text == "BEGIN_DATA" && section_ == Section::header && !table_.fields.empty()) {
            section_ = Section::data;
            opened_ = at(word);
            return true;
        }
        return misplaced(word);
    }

    bool misplaced(const Word& word) const {
        reader_.error("R003", at(word), fmt::format("{} is out of place here", word.text),
                      "the order is BEGIN_DATA_FORMAT, END_DATA_FORMAT, BEGIN_DATA, END_DATA");
        return false;
    }

    bool take_keyword(const Line& line) {
        const std::string& name = line.front().text;
        std::string value;
        for (std::size_t i = 1; i < line.size(); ++i) value += (i > 1 ? " " : "") + line[i].text;
        const auto before = table_.keywords.find(name);
        if (before != table_.keywords.end() && is_counted(name) && before->second.value != value) {
            reader_.error("R014", reader_.at(line.front().begin, line.back().end),
                          fmt::format("{} is {} here and {} before", name, value, before->second.value),
                          "leave the right one");
            return false;
        }
        table_.keywords[name] = {value, reader_.at(line.front().begin, line.back().end)};
        return true;
    }

    // A row begins on a line of its own and may go on over several.
    bool take_row(const Line& line) {
        if (is_opening(line.front())) {
            if (line.front().text != "END_DATA" || line.size() > 1) return misplaced(line.front());
            return end_table();
        }
        row_.insert(row_.end(), line.begin(), line.end());
        if (row_.size() > table_.fields.size()) {
            reader_.error("R006", reader_.at(line.front().begin, line.back().end),
                          fmt::format("{} values where {} are wanted", row_.size(), table_.fields.size()),
                          "every sample begins on a new line and has one value for each field; names with "
                          "blanks need quotation marks");
            return false;
        }
        if (row_.size() < table_.fields.size()) return true;
        table_.rows.push_back(std::move(row_));
        row_.clear();
        return true;
    }

    bool end_table() {
        if (!row_.empty()) {
            reader_.error("R006", reader_.at(row_.front().begin, row_.back().end),
                          fmt::format("{} values where {} are wanted", row_.size(), table_.fields.size()),
                          "every sample has one value for each field");
            return false;
        }
        if (!fields_as_announced()) return false;  // the count may stand below the fields
        if (!as_announced("NUMBER_OF_SETS", "R005", table_.rows.size(), "samples")) return false;
        const CgatsTable done = std::move(table_);
        table_ = {};
        for (const char* kept : {"MEASUREMENT_GEOMETRY", "SAMPLE_BACKING", "MEAS_TYPE"})
            if (const Keyword* keyword = done.find(kept)) table_.keywords[kept] = *keyword;
        tables.push_back(done);
        section_ = Section::header;
        return true;
    }

    bool fields_as_announced() const {
        if (table_.fields.empty()) {
            reader_.error("R004", table_.place, "no field is named here", "name the fields of the data");
            return false;
        }
        return as_announced("NUMBER_OF_FIELDS", "R004", table_.fields.size(), "fields");
    }

    bool as_announced(const char* name, std::string_view rule, std::size_t count, const char* things) const {
        const Keyword* keyword = table_.find(name);
        if (!keyword || number_of(keyword->value) == static_cast<double>(count)) return true;
        reader_.error(rule, keyword->place,
                      fmt::format("there are {} {}, not {}", count, things, keyword->value),
                      fmt::format("write {} {}, if nothing is missing", name, count));
        return false;
    }

    const Reader& reader_;
    Section section_ = Section::header;
    Place opened_;
    CgatsTable table_;
    std::vector<Word> row_;
};

}  // namespace

const Keyword* CgatsTable::find(const std::string& name) const {
    const auto found = keywords.find(name);
    return found == keywords.end() ? nullptr : &found->second;
}

std::string CgatsTable::value(const std::string& name) const {
    const Keyword* keyword = find(name);
    return keyword ? keyword->value : "";
}

std::optional<std::vector<CgatsTable>> tables_of(const Reader& reader) {
    TableReader tables(reader);
    if (!tables.read()) return std::nullopt;
    return std::move(tables.tables);
}

}  // namespace fadewright::colour
