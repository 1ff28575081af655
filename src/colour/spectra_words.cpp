#include "spectra_words.h"

#include <algorithm>

namespace fadewright::colour {
namespace {

bool is_blank(char c) noexcept { return c == ' ' || c == '\t' || c == '\f'; }
bool is_line_end(char c) noexcept { return c == '\n' || c == '\r'; }

// Reads on from the opening quotation mark at `at`; returns where the word ends.
Word quoted_word(std::string_view text, std::size_t at) {
    Word word{"", at, at, true, true};
    for (++at; at < text.size() && !is_line_end(text[at]); ++at) {
        if (text[at] == '"') {
            if (at + 1 < text.size() && text[at + 1] == '"') {
                ++at;
            } else {
                word.open = false;
                ++at;
                break;
            }
        }
        word.text += text[at];
    }
    word.end = at;
    return word;
}

Word bare_word(std::string_view text, std::size_t at) {
    const std::size_t begin = at;
    while (at < text.size() && !is_blank(text[at]) && !is_line_end(text[at])) ++at;
    return {std::string(text.substr(begin, at - begin)), begin, at, false, false};
}

}  // namespace

std::vector<Line> lines_of(std::string_view text) {
    std::vector<Line> lines;
    Line line;
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

bool is_section_word(std::string_view word) {
    return word == "BEGIN_DATA_FORMAT" || word == "END_DATA_FORMAT" || word == "BEGIN_DATA" ||
           word == "END_DATA";
}

}  // namespace fadewright::colour
