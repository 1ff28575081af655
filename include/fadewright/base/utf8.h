// UTF-8 text by GLib: checked, read from Latin-1, made safe to print, escaped for HTML.
//
// Source: [unicode15], table 3-7 (overlong forms, surrogates and code points above U+10FFFF are invalid).
// Checks     tests/base/utf8_test.cpp
#pragma once

#include <string>
#include <string_view>

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

}  // namespace fadewright
