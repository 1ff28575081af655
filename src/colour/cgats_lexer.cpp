#include "cgats_lexer.h"

#include <algorithm>

namespace fadewright::colour {
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

}  // namespace fadewright::colour
