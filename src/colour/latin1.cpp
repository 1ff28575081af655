// Names in files are UTF-8 or, from older programs, Latin-1.

#include "spectra_common.h"

namespace fadewright::colour {
namespace {

// Bytes of the UTF-8 character at that offset; 0 if there is none. Overlong forms and surrogates are invalid
// (Unicode 15, table 3-7).
std::size_t character_bytes(std::string_view text) {
    const auto byte = [&](std::size_t i) {
        return i < text.size() ? static_cast<unsigned char>(text[i]) : 0u;
    };
    const unsigned first = byte(0), second = byte(1);
    const auto follows = [&](std::size_t i) { return (byte(i) & 0xC0u) == 0x80u; };
    if (first < 0x80) return 1;
    if (first >= 0xC2 && first <= 0xDF && follows(1)) return 2;
    if (first >= 0xE0 && first <= 0xEF && follows(1) && follows(2)) {
        const bool overlong = first == 0xE0 && second < 0xA0, surrogate = first == 0xED && second > 0x9F;
        return overlong || surrogate ? 0 : 3;
    }
    if (first >= 0xF0 && first <= 0xF4 && follows(1) && follows(2) && follows(3)) {
        const bool overlong = first == 0xF0 && second < 0x90, out_of_range = first == 0xF4 && second > 0x8F;
        return overlong || out_of_range ? 0 : 4;
    }
    return 0;
}

bool is_utf8(std::string_view text) {
    while (!text.empty()) {
        const std::size_t bytes = character_bytes(text);
        if (bytes == 0) return false;
        text.remove_prefix(bytes);
    }
    return true;
}

}  // namespace

std::string to_utf8(std::string_view text) {
    if (is_utf8(text)) return std::string(text);
    std::string out;
    for (const char c : text) {
        const auto code = static_cast<unsigned char>(c);
        if (code < 0x80) {
            out += c;
        } else {
            out += static_cast<char>(0xC0u | (code >> 6u));
            out += static_cast<char>(0x80u | (code & 0x3Fu));
        }
    }
    return out;
}

}  // namespace fadewright::colour
