#include "fadewright/render/png.h"

#include "fadewright/base/files.h"
#include "fadewright/base/random.h"
#include "fadewright/colour/profile.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <libdeflate.h>

#include <cstdlib>
#include <memory>
#include <string>
#include <vector>

using namespace fadewright;
using namespace fadewright::render;

namespace {

Picture noisy_fade(int width, int height, int channels) {
    Picture picture(width, height, channels);
    for (std::size_t i = 0; i < picture.samples.size(); ++i)
        picture.samples[i] = static_cast<std::uint8_t>((i / 64 + random_bits(1, 2, i) % 3) % 256);
    return picture;
}

struct Chunk {
    std::string type, content;
    bool check_sum_right = false;
};

std::uint32_t number_at(const std::string& bytes, std::size_t at) {
    std::uint32_t v = 0;
    for (std::size_t i = 0; i < 4; ++i) v = v * 256 + static_cast<std::uint8_t>(bytes.at(at + i));
    return v;
}

std::vector<Chunk> chunks_of(const std::string& png) {
    REQUIRE(png.substr(0, 8) == "\x89PNG\r\n\x1a\n");
    std::vector<Chunk> chunks;
    for (std::size_t at = 8; at < png.size();) {
        const std::size_t size = number_at(png, at);
        chunks.push_back(
            {png.substr(at + 4, 4), png.substr(at + 8, size),
             libdeflate_crc32(0, png.data() + at + 4, size + 4) == number_at(png, at + 8 + size)});
        at += size + 12;
    }
    return chunks;
}

std::string content_of(const std::string& png, const std::string& type) {
    for (const Chunk& chunk : chunks_of(png))
        if (chunk.type == type) return chunk.content;
    FAIL("no chunk " << type);
    return {};
}

std::string inflate(const std::string& stream, std::size_t size) {
    struct Free {
        void operator()(libdeflate_decompressor* d) const { libdeflate_free_decompressor(d); }
    };
    const std::unique_ptr<libdeflate_decompressor, Free> decompressor(libdeflate_alloc_decompressor());
    std::string out(size, '\0');
    // Without an argument for the real size, anything but exactly `size` bytes is an error.
    REQUIRE(libdeflate_zlib_decompress(decompressor.get(), stream.data(), stream.size(), out.data(), size,
                                       nullptr) == LIBDEFLATE_SUCCESS);
    return out;
}

PngMetadata full_metadata() {
    PngMetadata metadata;
    metadata.icc = colour::OutputProfile::srgb().icc_bytes();
    metadata.icc_name = "sRGB";
    metadata.pixels_per_metre = 2133.4;
    metadata.texts = {{"Title", "Dusk fade"}, {"Comment", "Abendr\xC3\xB6te \xE2\x80\x93 plum to apricot"}};
    return metadata;
}

// Flips one bit in the middle of the compressed pixels.
std::string damaged(std::string png) {
    const std::size_t at = png.find("IDAT") + 40;
    png.at(at) = static_cast<char>(png[at] ^ 0x10);
    return png;
}

}  // namespace

TEST_CASE("a picture comes back from its PNG pixel for pixel", "[render]") {
    for (const auto& [width, height] : {std::pair{1, 1}, {7, 3}, {64, 64}, {1, 200}, {333, 2}}) {
        CAPTURE(width, height);
        const Picture picture = noisy_fade(width, height, 3);
        const Result<Picture> back = read_picture(png_bytes(picture, full_metadata()), "a.png");
        REQUIRE(back.ok());
        CHECK(back.value() == picture);
    }
}

TEST_CASE("grey comes back as three equal channels, and transparency is dropped", "[render]") {
    const Picture grey = noisy_fade(20, 10, 1), clear = noisy_fade(20, 10, 4);
    const Result<Picture> from_grey = read_picture(png_bytes(grey, {}), "grey.png");
    const Result<Picture> from_clear = read_picture(png_bytes(clear, {}), "clear.png");
    REQUIRE((from_grey.ok() && from_clear.ok()));
    for (int y = 0; y < 10; ++y)
        for (int x = 0; x < 20; ++x)
            for (int c = 0; c < 3; ++c) {
                REQUIRE(from_grey.value().pixel(x, y)[c] == grey.pixel(x, y)[0]);
                REQUIRE(from_clear.value().pixel(x, y)[c] == clear.pixel(x, y)[c]);
            }
}

TEST_CASE("the same picture and metadata give the same bytes", "[render]") {
    const Picture picture = noisy_fade(200, 100, 3);
    CHECK(png_bytes(picture, full_metadata()) == png_bytes(picture, full_metadata()));
    CHECK(png_bytes(picture, full_metadata()) != png_bytes(picture, {}));
}

TEST_CASE("profile, size and texts are between the header and the pixels, each with a valid checksum",
          "[render]") {
    std::vector<std::string> order;
    for (const Chunk& chunk : chunks_of(png_bytes(noisy_fade(50, 40, 3), full_metadata()))) {
        CAPTURE(chunk.type);
        CHECK(chunk.check_sum_right);
        order.push_back(chunk.type);
    }
    CHECK(order == std::vector<std::string>{"IHDR", "iCCP", "pHYs", "tEXt", "iTXt", "IDAT", "IEND"});
}

TEST_CASE("a picture without metadata has no chunks for it", "[render]") {
    std::vector<std::string> order;
    for (const Chunk& chunk : chunks_of(png_bytes(noisy_fade(5, 4, 3), {}))) order.push_back(chunk.type);
    CHECK(order == std::vector<std::string>{"IHDR", "IDAT", "IEND"});
}

TEST_CASE("the profile in the file is the profile given, to the last byte", "[render]") {
    const PngMetadata metadata = full_metadata();
    REQUIRE(metadata.icc.size() > 100);
    const std::string content = content_of(png_bytes(noisy_fade(5, 4, 3), metadata), "iCCP");
    // Name, zero byte, method 0, then the compressed profile.
    CHECK(content.substr(0, 6) == std::string("sRGB\0\0", 6));
    CHECK(inflate(content.substr(6), metadata.icc.size()) == metadata.icc);
}

TEST_CASE("the true size is in whole pixels per metre, equal in both directions", "[render]") {
    const std::string content = content_of(png_bytes(noisy_fade(5, 4, 3), full_metadata()), "pHYs");
    REQUIRE(content.size() == 9);
    CHECK(number_at(content, 0) == 2133);  // from 2133.4
    CHECK(number_at(content, 4) == 2133);
    CHECK(content[8] == 1);  // the unit is the metre
}

TEST_CASE("texts come back from the file, accents and dashes included", "[render]") {
    PngMetadata metadata = full_metadata();
    metadata.texts.emplace_back("Empty", "");
    metadata.texts.emplace_back("Torn", std::string("a\0b", 3));
    const auto texts = png_texts(png_bytes(noisy_fade(5, 4, 3), metadata));
    CHECK(texts == std::map<std::string, std::string>{
                       {"Title", "Dusk fade"}, {"Comment", metadata.texts[1].second}, {"Torn", "a b"}});
}

TEST_CASE("texts are found after a language and a translated keyword, and compressed ones are ignored",
          "[render]") {
    const std::string plain = png_bytes(noisy_fade(5, 4, 3), {});
    const auto with = [&](const std::string& content) {
        const std::string head = {'\0', '\0', '\0', static_cast<char>(content.size())};
        return plain.substr(0, 33) + head + "iTXt" + content + "sums" + plain.substr(33);
    };
    using Texts = std::map<std::string, std::string>;
    CHECK(png_texts(with(std::string("Title\0\0\0de\0Titel\0Verlauf", 24))) == Texts{{"Title", "Verlauf"}});
    CHECK(png_texts(with(std::string("Title\0\1\0de\0Titel\0packed", 23))).empty());
    CHECK(png_texts(with(std::string("Title\0\0", 7))).empty());
    CHECK(png_texts(with("no zero byte")).empty());
    CHECK(png_texts("").empty());
    CHECK(png_texts("not a picture, whatever stands behind its first eight bytes").empty());
}

TEST_CASE("a truncated file gives the complete texts and no others", "[render]") {
    const std::string png = png_bytes(noisy_fade(5, 4, 3), full_metadata());
    const auto whole = png_texts(png);
    for (std::size_t size = 0; size < png.size(); ++size)
        for (const auto& [keyword, text] : png_texts(png.substr(0, size))) {
            REQUIRE(whole.count(keyword) == 1);
            REQUIRE(whole.at(keyword) == text);
        }
}

TEST_CASE("pngcheck finds no errors in our files", "[render]") {
    const std::vector<std::pair<std::string, PngMetadata>> kinds{{"plain", {}}, {"full", full_metadata()}};
    for (const auto& [name, metadata] : kinds)
        for (const int channels : {1, 3, 4}) {
            PngMetadata fitting = metadata;
            if (channels == 1) fitting.icc.clear();  // an RGB profile does not belong in a grey picture
            const std::string path =
                test::scratch_path("png_test_" + name + "_" + std::to_string(channels) + ".png");
            REQUIRE(write_file_atomic(path, png_bytes(noisy_fade(120, 80, channels), fitting)).ok());
            CAPTURE(path);
            CHECK(std::system(("pngcheck -q '" + path + "'").c_str()) == 0);
        }
    // The check can fail.
    const std::string path = test::scratch_path("png_test_damaged.png");
    REQUIRE(write_file_atomic(path, damaged(png_bytes(noisy_fade(120, 80, 3), {}))).ok());
    CHECK(std::system(("pngcheck -q '" + path + "' > /dev/null 2>&1").c_str()) != 0);
}

TEST_CASE("a file that is not a picture, truncated or damaged is an error with its name", "[render]") {
    const std::string png = png_bytes(noisy_fade(120, 80, 3), {});
    for (const std::string& bytes : {std::string(), std::string("GIF89a, or so it says"), png.substr(0, 20),
                                     png.substr(0, png.size() / 2), damaged(png)}) {
        CAPTURE(bytes.size());
        const Result<Picture> read = read_picture(bytes, "scan.png");
        REQUIRE_FALSE(read.ok());
        CHECK_THAT(read.error().message, Catch::Matchers::StartsWith("scan.png is "));
    }
}

TEST_CASE("a picture that claims more than 64 million pixels is an error before it is decoded", "[render]") {
    // Width and height of the header; the reader does not verify the checksum of the header.
    for (const std::string& size :
         {std::string("\0\0\x1F\x41\0\0\x1F\x40", 8), std::string("\0\0\x80\0\0\0\x80\0", 8)}) {
        std::string png = png_bytes(noisy_fade(120, 80, 3), {});
        png.replace(16, 8, size);
        const Result<Picture> read = read_picture(png, "huge.png");
        REQUIRE_FALSE(read.ok());
        CHECK_THAT(read.error().message, Catch::Matchers::EndsWith("64 million pixels"));
    }
}

// Source: [w3c2025png]: acTL before the first IDAT, fcTL before every picture, fdAT
// numbered on from the fcTL before it, nothing skipped.
TEST_CASE("an animated PNG holds every picture, in order and complete", "[render]") {
    std::vector<Picture> pictures;
    for (int i = 0; i < 3; ++i) {
        pictures.push_back(noisy_fade(60, 40, 3));
        pictures.back().samples[0] = static_cast<std::uint8_t>(77 + i);
    }
    std::vector<std::string> pngs;
    for (const Picture& picture : pictures) pngs.push_back(png_bytes(picture, full_metadata()));
    const std::string png = apng_bytes(pngs, Seconds{0.125});
    std::uint32_t order = 0;
    std::size_t frame_count = 0;
    std::vector<std::string> streams;
    bool animation_declared = false;
    for (const Chunk& chunk : chunks_of(png)) {
        CHECK(chunk.check_sum_right);
        if (chunk.type == "acTL") {
            animation_declared = true;
            CHECK(number_at(chunk.content, 0) == 3);
            CHECK(number_at(chunk.content, 4) == 0);  // endless
        }
        if (chunk.type == "IDAT") REQUIRE(animation_declared);
        if (chunk.type == "fcTL") {
            CHECK(number_at(chunk.content, 0) == order++);
            CHECK(number_at(chunk.content, 4) == 60);
            CHECK(number_at(chunk.content, 8) == 40);
            CHECK(number_at(chunk.content, 20) == (125u << 16 | 1000u));  // milliseconds
            ++frame_count;
            streams.emplace_back();
        }
        if (chunk.type == "fdAT") CHECK(number_at(chunk.content, 0) == order++);
        if (chunk.type == "IDAT") streams.back() += chunk.content;
        if (chunk.type == "fdAT") streams.back() += chunk.content.substr(4);
    }
    CHECK(frame_count == 3);
    for (std::size_t i = 0; i < 3; ++i) CHECK(streams[i] == content_of(png_bytes(pictures[i], {}), "IDAT"));
    CHECK(read_picture(png, "moving.png").value() == pictures.front());
}
