#include "fadewright/base/utf8.h"

#include <glib.h>

#include <algorithm>
#include <memory>

namespace fadewright {
namespace {

constexpr gunichar kFirstJoiner = 0x200C, kLastJoiner = 0x200D;

bool is_printable(gunichar c) {
    const GUnicodeType type = g_unichar_type(c);
    if (type == G_UNICODE_FORMAT) return c == kFirstJoiner || c == kLastJoiner;
    return type != G_UNICODE_CONTROL && type != G_UNICODE_LINE_SEPARATOR &&
           type != G_UNICODE_PARAGRAPH_SEPARATOR;
}

}  // namespace

bool is_utf8(std::string_view text) {
    // GLib stops at NUL.
    for (;;) {
        const std::size_t nul = std::min(text.find('\0'), text.size());
        if (!g_utf8_validate_len(text.data(), nul, nullptr)) return false;
        if (nul == text.size()) return true;
        text.remove_prefix(nul + 1);
    }
}

std::string to_utf8(std::string_view text) {
    if (is_utf8(text)) return std::string(text);
    gsize size = 0;
    const std::unique_ptr<char, decltype(&g_free)> converted(
        g_convert(text.data(), static_cast<gssize>(text.size()), "UTF-8", "ISO-8859-1", nullptr, &size,
                  nullptr),
        &g_free);
    return {converted.get(), size};
}

std::string escape_markup(std::string_view text) {
    const std::string valid = to_utf8(text);
    const std::unique_ptr<char, decltype(&g_free)> escaped(
        g_markup_escape_text(valid.data(), static_cast<gssize>(valid.size())), &g_free);
    return escaped.get();
}

std::string sanitise_for_terminal(std::string_view text, std::string_view kept) {
    std::string safe_text;
    while (!text.empty()) {
        const gunichar c = g_utf8_get_char_validated(text.data(), static_cast<gssize>(text.size()));
        // The two largest values mean an invalid and an incomplete character.
        const bool is_valid = c <= 0x10FFFF;
        const auto length =
            is_valid ? static_cast<std::size_t>(g_utf8_skip[static_cast<guchar>(text[0])]) : 1;
        if (kept.find(text[0]) != std::string_view::npos || (is_valid && is_printable(c)))
            safe_text += text.substr(0, length);
        else
            safe_text += text[0] == '\t' ? ' ' : '?';
        text.remove_prefix(length);
    }
    return safe_text;
}

}  // namespace fadewright
