// CGATS text taken apart into lines and words.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::colour {

struct Token {
    std::string text;  // without its quotation marks; "" within them is one of them
    std::size_t begin = 0;
    std::size_t end = 0;  // in the file, with the quotation marks
    bool quoted = false;
    bool unclosed = false;  // the quotation mark at its end is missing; it reaches to the end of the line
};

using TokenLine = std::vector<Token>;

// Lines that have words; # at the start of a word begins a comment.
[[nodiscard]] std::vector<TokenLine> tokenise(std::string_view text);

// BEGIN_DATA_FORMAT, END_DATA_FORMAT, BEGIN_DATA or END_DATA.
[[nodiscard]] bool is_section_keyword(std::string_view token);

}  // namespace fadewright::colour
