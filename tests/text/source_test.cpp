#include "fadewright/text/source.h"

#include <catch2/catch.hpp>

namespace {

using namespace fadewright;

// Lines of many lengths up to a few times 256 bytes, with characters of one, two and three bytes.
std::string mixed_text() {
    std::string text;
    for (int length = 0; length < 700; length += 53) {
        for (int i = 0; i < length; ++i) text += i % 7 == 3 ? "µ" : i % 11 == 5 ? "…" : "a";
        text += '\n';
    }
    return text + "no line end here";
}

// Line and column by definition: counted from the start.
Source::Position counted(const std::string& text, std::size_t offset) {
    Source::Position position{1, 1};
    for (std::size_t i = 0; i < offset; ++i) {
        const bool starts = (static_cast<unsigned char>(text[i]) & 0xC0u) != 0x80u;
        if (text[i] == '\n') {
            position = {position.line + 1, 1};
        } else if (starts) {
            ++position.column;
        }
    }
    return position;
}

bool starts_character(const std::string& text, std::size_t offset_at) {
    return offset_at == text.size() || (static_cast<unsigned char>(text[offset_at]) & 0xC0u) != 0x80u;
}

}  // namespace

TEST_CASE("line and column are the same as when counted from the start", "[text]") {
    const std::string text = mixed_text();
    const Source source("mixed", text);
    for (std::size_t offset_at = 0; offset_at <= text.size(); ++offset_at) {
        if (!starts_character(text, offset_at)) continue;
        const Source::Position expected = counted(text, offset_at), found = source.position(offset_at);
        CAPTURE(offset_at, expected.line, expected.column, found.line, found.column);
        REQUIRE((found.line == expected.line && found.column == expected.column));
        REQUIRE(source.offset(found) == offset_at);
    }
}

TEST_CASE("a position beyond a line is the end of the line, and beyond the text the end of the text",
          "[text]") {
    const Source source("short", "ab\nµ\n");
    CHECK(source.offset({1, 99}) == 2);
    CHECK(source.offset({2, 99}) == 5);
    CHECK(source.offset({3, 1}) == 6);
    CHECK(source.offset({3, 99}) == 6);
    CHECK(source.offset({99, 1}) == 6);
    CHECK(source.position(99).line == 3);
    CHECK(Source("empty", "").position(0).column == 1);
    CHECK(Source("empty", "").offset({1, 5}) == 0);
}

TEST_CASE("a byte order mark is not part of the text", "[text]") {
    const Source source("marked", "\xEF\xBB\xBFplan = 1\r\n");
    CHECK(source.text() == "plan = 1\r\n");
    CHECK(source.line(1) == "plan = 1");
}

TEST_CASE("a source knows the SHA-256 of its text, without a byte order mark", "[text]") {
    // Source: [fips180], the example "abc".
    const std::string abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    CHECK(fadewright::Source("plan.toml", "abc").sha256() == abc);
    CHECK(fadewright::Source("other.toml",
                             "\xEF\xBB\xBF"
                             "abc")
              .sha256() == abc);
    CHECK(fadewright::Source("plan.toml", "abd").sha256() != abc);
}
