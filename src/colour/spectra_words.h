// CGATS text taken apart into lines and words.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::colour {

struct Word {
    std::string text;  // without its quotation marks; "" within them is one of them
    std::size_t begin = 0;
    std::size_t end = 0;  // in the file, with the quotation marks
    bool quoted = false;
    bool open = false;  // the quotation mark at its end is missing; it reaches to the end of the line
};

using Line = std::vector<Word>;

// Lines that have words; # at the start of a word begins a comment.
[[nodiscard]] std::vector<Line> lines_of(std::string_view text);

// BEGIN_DATA_FORMAT, END_DATA_FORMAT, BEGIN_DATA or END_DATA.
[[nodiscard]] bool is_section_word(std::string_view word);

}  // namespace fadewright::colour
