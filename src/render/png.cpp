#include "fadewright/render/png.h"

#include "stb_parts.h"

#include <libdeflate.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace fadewright::render {
namespace {

constexpr std::size_t kHeaderEnd = 8 + 25;  // signature and IHDR

std::string big_endian(std::uint32_t v) {
    return {static_cast<char>(v >> 24), static_cast<char>(v >> 16), static_cast<char>(v >> 8),
            static_cast<char>(v)};
}

std::uint32_t read_big_endian(const std::string& bytes, std::size_t at) {
    std::uint32_t v = 0;
    for (std::size_t i = 0; i < 4; ++i) v = (v << 8) | static_cast<unsigned char>(bytes[at + i]);
    return v;
}

std::string chunk(const std::string& type, const std::string& content) {
    const std::string body = type + content;
    return big_endian(static_cast<std::uint32_t>(content.size())) + body +
           big_endian(libdeflate_crc32(0, body.data(), body.size()));
}

bool is_ascii(const std::string& text) {
    return std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 128; });
}

std::string text_chunk(const std::string& keyword, const std::string& words) {
    if (is_ascii(words)) return chunk("tEXt", keyword + '\0' + words);
    // iTXt: not compressed, no language, no translated keyword.
    return chunk("iTXt", keyword + std::string(5, '\0') + words);
}

}  // namespace

std::string png_bytes(const Picture& picture, const PngNotes& notes) {
    FW_EXPECTS(picture.channels == 1 || picture.channels == 3 || picture.channels == 4);
    const std::string plain =
        stb::png(picture.samples.data(), picture.width, picture.height, picture.channels);
    if (plain.size() <= kHeaderEnd) throw std::bad_alloc();
    std::string extra;
    if (!notes.icc.empty())
        extra += chunk("iCCP", notes.icc_name + std::string(2, '\0') + stb::deflated(notes.icc));
    if (notes.pixels_per_metre > 0) {
        const std::string each = big_endian(static_cast<std::uint32_t>(std::lround(notes.pixels_per_metre)));
        extra += chunk("pHYs", each + each + '\1');
    }
    for (const auto& [keyword, words] : notes.texts)
        if (!words.empty()) extra += text_chunk(keyword, words);
    return plain.substr(0, kHeaderEnd) + extra + plain.substr(kHeaderEnd);
}

std::map<std::string, std::string> png_texts(const std::string& bytes) {
    std::map<std::string, std::string> texts;
    std::size_t at = 8;
    while (at + 12 <= bytes.size()) {
        const std::size_t size = read_big_endian(bytes, at);
        if (size > bytes.size() - at - 12) break;
        const std::string type = bytes.substr(at + 4, 4), content = bytes.substr(at + 8, size);
        const std::size_t end = content.find('\0');
        if (end != std::string::npos && type == "tEXt")
            texts[content.substr(0, end)] = content.substr(end + 1);
        if (end != std::string::npos && type == "iTXt" && content.size() >= end + 5)
            texts[content.substr(0, end)] = content.substr(end + 5);
        at += 12 + size;
    }
    return texts;
}

}  // namespace fadewright::render
