#include "fadewright/render/png.h"

#include "stb_write.h"

#include <libdeflate.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <new>
#include <optional>

namespace fadewright::render {
namespace {

const std::string kSignature = "\x89PNG\r\n\x1a\n";
constexpr std::size_t kHeaderEnd = 8 + 25;  // signature and IHDR
constexpr std::size_t kChunkOverhead = 12;  // a chunk's size, type and check sum

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

bool is_keyword(const std::string& text) {
    return !text.empty() && text.size() < 80 && is_ascii(text) && text.front() != ' ' && text.back() != ' ' &&
           std::none_of(text.begin(), text.end(), [](char c) { return c < ' '; });
}

std::string text_chunk(const std::string& keyword, std::string text) {
    FW_EXPECTS(is_keyword(keyword));
    std::replace(text.begin(), text.end(), '\0', ' ');
    if (is_ascii(text)) return chunk("tEXt", keyword + '\0' + text);
    // iTXt: not compressed, no language, no translated keyword.
    return chunk("iTXt", keyword + std::string(5, '\0') + text);
}

std::string profile_chunk(const std::string& name, const std::string& icc) {
    FW_EXPECTS(is_keyword(name));
    const std::string compressed = stb::zlib_compress(icc);
    if (compressed.empty()) throw std::bad_alloc();
    return chunk("iCCP", name + std::string(2, '\0') + compressed);
}

struct Chunk {
    std::string type, content;
};

// The complete chunks; empty if the bytes are not a PNG.
std::vector<Chunk> chunks_of(const std::string& png) {
    std::vector<Chunk> chunks;
    if (png.compare(0, kSignature.size(), kSignature) != 0) return chunks;
    for (std::size_t at = kSignature.size(); at + kChunkOverhead <= png.size();) {
        const std::size_t size = read_big_endian(png, at);
        if (size > png.size() - at - kChunkOverhead) break;
        chunks.push_back({png.substr(at + 4, 4), png.substr(at + 8, size)});
        at += kChunkOverhead + size;
    }
    return chunks;
}

// A frame of the full size, shown for that many milliseconds. size: the first bytes of IHDR.
std::string frame_control(std::uint32_t order, const std::string& size, Seconds duration) {
    const auto milliseconds = static_cast<std::uint32_t>(std::lround(1000 * duration.value));
    const std::string delay = big_endian(milliseconds << 16 | 1000u);
    return chunk("fcTL",
                 big_endian(order) + size + big_endian(0) + big_endian(0) + delay + std::string(2, '\0'));
}

// The two flags of an iTXt chunk are followed by a language and a translated keyword, each with a zero byte.
std::optional<std::string> international_text(const std::string& content, std::size_t keyword_end) {
    std::size_t at = keyword_end + 3;
    if (at > content.size() || content[keyword_end + 1] != '\0')
        return std::nullopt;  // truncated or compressed
    for (int skipped = 0; skipped < 2; ++skipped) {
        const std::size_t end = content.find('\0', at);
        if (end == std::string::npos) return std::nullopt;
        at = end + 1;
    }
    return content.substr(at);
}

}  // namespace

std::string png_bytes(const Picture& picture, const PngMetadata& metadata) {
    FW_EXPECTS(picture.channels == 1 || picture.channels == 3 || picture.channels == 4);
    const std::string plain =
        stb::encode_png(picture.samples.data(), picture.width, picture.height, picture.channels);
    if (plain.size() <= kHeaderEnd) throw std::bad_alloc();
    std::string extra;
    if (!metadata.icc.empty()) extra += profile_chunk(metadata.icc_name, metadata.icc);
    if (metadata.pixels_per_metre > 0) {
        const std::string each =
            big_endian(static_cast<std::uint32_t>(std::lround(metadata.pixels_per_metre)));
        extra += chunk("pHYs", each + each + '\1');
    }
    for (const auto& [keyword, text] : metadata.texts)
        if (!text.empty()) extra += text_chunk(keyword, text);
    return plain.substr(0, kHeaderEnd) + extra + plain.substr(kHeaderEnd);
}

std::string apng_bytes(const std::vector<std::string>& pngs, Seconds frame_duration) {
    FW_EXPECTS(!pngs.empty());
    constexpr std::size_t size_bytes = 8;  // width and height
    std::string out = kSignature, size;
    std::uint32_t order = 0;
    for (std::size_t i = 0; i < pngs.size(); ++i) {
        bool started = false;
        for (const Chunk& c : chunks_of(pngs[i])) {
            const bool first = i == 0, pixels = c.type == "IDAT";
            if (c.type == "IHDR") {
                if (first) size = c.content.substr(0, size_bytes);
                FW_EXPECTS(c.content.substr(0, size_bytes) == size);
            }
            if (pixels && !started) {
                started = true;
                if (first)
                    out += chunk("acTL", big_endian(static_cast<std::uint32_t>(pngs.size())) + big_endian(0));
                out += frame_control(order++, size, frame_duration);
            }
            if (first && c.type != "IEND") out += chunk(c.type, c.content);
            if (!first && pixels) out += chunk("fdAT", big_endian(order++) + c.content);
        }
    }
    return out + chunk("IEND", "");
}

std::map<std::string, std::string> png_texts(const std::string& bytes) {
    std::map<std::string, std::string> texts;
    for (const Chunk& c : chunks_of(bytes)) {
        if (c.type != "tEXt" && c.type != "iTXt") continue;
        const std::size_t end = c.content.find('\0');
        if (end == std::string::npos) break;
        const std::optional<std::string> text =
            c.type == "tEXt" ? c.content.substr(end + 1) : international_text(c.content, end);
        if (text) texts[c.content.substr(0, end)] = *text;
    }
    return texts;
}

}  // namespace fadewright::render
