// Text in memory: UTF-8 by GLib (checked, made safe to print, escaped for HTML), base64, trimming, CSV.
//
// Source: [unicode15], table 3-7 (overlong forms, surrogates and code points above U+10FFFF are invalid).
// Checks     tests/base/utf8_test.cpp, tests/base/csv_test.cpp
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace fadewright {

// NUL is valid, as in the standard.
[[nodiscard]] bool is_utf8(std::string_view text);

// Text of unknown encoding as UTF-8: what is not UTF-8 is read as Latin-1.
[[nodiscard]] std::string to_utf8(std::string_view text);

// Text that a terminal shows and does not obey: "?" for each invalid byte, for control characters (also those
// of 8 bits, U+0080 to U+009F), for separators of lines and paragraphs, and for format characters, which can
// reverse the direction of a line. Tabs become spaces. The joiners U+200C and U+200D stay: scripts need them.
// Control characters in `kept` stay too.
[[nodiscard]] std::string sanitise_for_terminal(std::string_view text, std::string_view kept = {});

// Text for HTML and XML, between tags or in quoted attributes; what is not UTF-8 is read as Latin-1.
[[nodiscard]] std::string escape_markup(std::string_view text);

// Bytes as text, for data: addresses (by GLib). Source: [rfc4648].
[[nodiscard]] std::string base64(std::string_view bytes);

// Without spaces, tabs and line ends at its ends; a part of the same text.
[[nodiscard]] constexpr std::string_view trim(std::string_view text) noexcept {
    constexpr std::string_view kBlank = " \t\r\n";
    const std::size_t first = text.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return text.substr(text.size());
    return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

// Text as a cell of a CSV file, quoted where it must be. Source: [rfc4180].
[[nodiscard]] std::string csv_cell(std::string_view text);

// Rows of a table of numbers that is compiled in: after comment lines, which begin with '#', and one line of column names. Every
// row has as many numbers as there are names; a table that is not so breaks a contract.
[[nodiscard]] std::vector<std::vector<double>> number_table(std::string_view text);

}  // namespace fadewright
