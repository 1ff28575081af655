#include "fadewright/base/strings.h"

#include "fadewright/base/contract.h"

#include <glib.h>

#include <algorithm>
#include <charconv>
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

// Removes the part of the text before the mark, and the mark.
std::string_view take_until(std::string_view& text, char mark) {
    const std::size_t size = std::min(text.find(mark), text.size());
    const std::string_view part = text.substr(0, size);
    text.remove_prefix(std::min(size + 1, text.size()));
    return part;
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

std::string base64(std::string_view bytes) {
    const std::unique_ptr<char, decltype(&g_free)> text(
        g_base64_encode(reinterpret_cast<const guchar*>(bytes.data()), bytes.size()), &g_free);
    return text.get();
}

std::string csv_cell(std::string_view text) {
    if (text.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(text);
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + "\"";
}

std::vector<std::vector<double>> number_table(std::string_view text) {
    std::vector<std::vector<double>> rows;
    std::size_t columns = 0;
    while (!text.empty()) {
        std::string_view line = trim(take_until(text, '\n'));
        if (line.empty() || line.front() == '#') continue;
        if (columns == 0) {
            columns = 1 + static_cast<std::size_t>(std::count(line.begin(), line.end(), ','));
            continue;
        }
        std::vector<double>& row = rows.emplace_back();
        while (!line.empty()) {
            const std::string_view cell = take_until(line, ',');
            const auto [end, error] =
                std::from_chars(cell.data(), cell.data() + cell.size(), row.emplace_back());
            FW_ENSURES(error == std::errc{} && end == cell.data() + cell.size());
        }
        FW_ENSURES(row.size() == columns);
    }
    return rows;
}

}  // namespace fadewright
