// Invalid text is recognised, Latin-1 converted, and nothing that a terminal would obey is printed.
#include "fadewright/base/strings.h"

#include <catch2/catch.hpp>

using namespace fadewright;

namespace {

// Overlong, surrogate, beyond Unicode, truncated, stray, never used.
const std::vector<std::string> kInvalid{"\xC0\xAF",
                                        "\xE0\x80\x80",
                                        "\xE0\x9F\xBF",
                                        "\xF0\x80\x80\x80",
                                        "\xF0\x8F\xBF\xBF",
                                        "\xED\xA0\x80",
                                        "\xED\xBF\xBF",
                                        "\xE2\x82",
                                        "\xF4\x90\x80\x80",
                                        "\xF5\x80\x80\x80",
                                        "\xF8\x88\x80\x80",
                                        "\x80",
                                        "\xBF",
                                        "\xC2",
                                        "\xFF",
                                        "\xF0\x9F\x98",
                                        "\xE2\x28\xA1",
                                        "\xFE"};

// Sequences at the ends of the rows of table 3-7.
const std::vector<std::string> kValid{"",
                                      "\x01",
                                      "\x7F",
                                      "\xC2\x80",
                                      "\xDF\xBF",
                                      "\xE0\xA0\x80",
                                      "\xED\x9F\xBF",
                                      "\xEE\x80\x80",
                                      "\xEF\xBF\xBF",
                                      "\xF0\x90\x80\x80",
                                      "\xF4\x8F\xBF\xBF"};

}  // namespace

TEST_CASE("UTF-8 is what the standard's table allows", "[base][utf8]") {
    for (const std::string& text : kValid) CHECK(is_utf8("a" + text + "b"));
    for (const std::string& text : kInvalid) {
        CHECK_FALSE(is_utf8(text));
        CHECK_FALSE(is_utf8("a" + text + "b"));
        CHECK_FALSE(is_utf8(std::string(1, '\0') + text));
    }
    CHECK(is_utf8(std::string("a\0µ", 4)));
}

TEST_CASE("what is not UTF-8 is read as Latin-1", "[base][utf8]") {
    CHECK(to_utf8("grün") == "grün");
    CHECK(to_utf8("gr\xFCn") == "grün");
    CHECK(to_utf8("\x80 \xFF µ") == "\xC2\x80 ÿ Âµ");
    CHECK(to_utf8(std::string("\0\xE9", 2)) == std::string("\0é", 3));
    CHECK(to_utf8("").empty());
    for (int byte = 0x80; byte < 0x100; ++byte)
        CHECK(is_utf8(to_utf8(std::string(1, static_cast<char>(byte)))));
}

TEST_CASE("whole characters reach the terminal unchanged", "[base][utf8]") {
    for (const std::string text :
         {"Pearl over 40 µm, ΔE00 ± 0.5 … “dusk”", "é e\u0301 日本 😀", "می\u200Cخواهم", "\uFFFD"})
        CHECK(sanitise_for_terminal(text) == text);
}

TEST_CASE("each invalid byte is one question mark", "[base][utf8]") {
    for (const std::string& text : kInvalid) {
        const std::string safe_text = sanitise_for_terminal("a" + text + "µ");
        CHECK(safe_text.starts_with("a?"));
        CHECK(safe_text.ends_with("µ"));
        CHECK(is_utf8(safe_text));
    }
    CHECK(sanitise_for_terminal("\xE0\x80\x80") == "???");
    CHECK(sanitise_for_terminal("\xED\xA0\x80") == "???");
    CHECK(sanitise_for_terminal("\xF4\x90\x80\x80") == "????");
}

TEST_CASE("no control character of 7 or 8 bits reaches the terminal", "[base][utf8]") {
    CHECK(sanitise_for_terminal("\x1b[31m\x7f\r\n\t.") == "?[31m??? .");
    CHECK(sanitise_for_terminal("\xC2\x9B"
                                "31m") == "?31m");  // the same sequence in 8 bits
    CHECK(sanitise_for_terminal(std::string("a\0b", 3)) == "a?b");
    for (unsigned code = 0x80; code < 0xA0; ++code)
        CHECK(sanitise_for_terminal(std::string{'\xC2', static_cast<char>(code)}) == "?");
    CHECK(sanitise_for_terminal("a\n\tb\x1b", "\n\t") == "a\n\tb?");
}

TEST_CASE("no character that turns or breaks a line reaches the terminal", "[base][utf8]") {
    for (const std::string mark :
         {"\u200B", "\u200E", "\u200F", "\u202A", "\u202B", "\u202C", "\u202D", "\u202E", "\u2066", "\u2067",
          "\u2068", "\u2069", "\u061C", "\u2028", "\u2029", "\uFEFF"})
        CHECK(sanitise_for_terminal("a" + mark + "b") == "a?b");
}

TEST_CASE("markup cannot be ended by a text", "[base][utf8]") {
    CHECK(escape_markup("a < b & \"c\" > 'd' µ") == "a &lt; b &amp; &quot;c&quot; &gt; &apos;d&apos; µ");
    CHECK(escape_markup("gr\xFCn\xE2") == "grünâ");
    CHECK(escape_markup("").empty());
}
