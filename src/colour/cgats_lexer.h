// Splits CGATS text into lines and words.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::colour {

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

}  // namespace fadewright::colour
