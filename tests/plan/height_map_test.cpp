#include "fadewright/plan/height_map.h"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <cstdint>

using namespace fadewright;
using namespace fadewright::plan;
using Catch::Matchers::Contains;

namespace {

const geometry::Box kOver{0, 0, 200, 100};

// CRC and Adler sums as in PNG and zlib. Source: [rfc2083], [rfc1950].
std::uint32_t crc(const std::string& bytes) {
    std::uint32_t c = 0xFFFFFFFFu;
    for (const char byte : bytes) {
        c ^= static_cast<unsigned char>(byte);
        for (int k = 0; k < 8; ++k) c = (c & 1u) ? 0xEDB88320u ^ (c >> 1) : c >> 1;
    }
    return c ^ 0xFFFFFFFFu;
}

std::string big_endian(std::uint32_t v, int count) {
    std::string bytes;
    for (int i = count - 1; i >= 0; --i) bytes += static_cast<char>((v >> (8 * i)) & 0xFFu);
    return bytes;
}

std::string chunk(const std::string& type, const std::string& data) {
    return big_endian(static_cast<std::uint32_t>(data.size()), 4) + type + data +
           big_endian(crc(type + data), 4);
}

// A grey PNG with uncompressed data.
std::string grey_png(int columns, int rows, int bits, const std::vector<int>& values) {
    std::string raw;
    for (int j = 0; j < rows; ++j) {
        raw += '\0';  // no filter
        for (int i = 0; i < columns; ++i)
            raw += big_endian(static_cast<std::uint32_t>(values[static_cast<std::size_t>(j * columns + i)]),
                              bits / 8);
    }
    std::uint32_t a = 1, b = 0;
    for (const char byte : raw) {
        a = (a + static_cast<unsigned char>(byte)) % 65521u;
        b = (b + a) % 65521u;
    }
    const auto size = static_cast<std::uint32_t>(raw.size());
    std::string stored = "\x78\x01\x01";
    for (const std::uint32_t v : {size & 0xFFFFu, ~size & 0xFFFFu}) {
        stored += static_cast<char>(v & 0xFFu);
        stored += static_cast<char>(v >> 8);
    }
    stored += raw + big_endian((b << 16) | a, 4);
    const std::string header = big_endian(static_cast<std::uint32_t>(columns), 4) +
                               big_endian(static_cast<std::uint32_t>(rows), 4) +
                               std::string{static_cast<char>(bits), 0, 0, 0, 0};
    return "\x89PNG\r\n\x1a\n" + chunk("IHDR", header) + chunk("IDAT", stored) + chunk("IEND", "");
}

spray::HeightMap map_of(const std::string& bytes, HeightScale scale) {
    const Result<spray::HeightMap> result = height_map_from_png(bytes, "map.png", kOver, scale);
    if (!result) FAIL(result.error().message);
    return result.value();
}

std::string refusal(const std::string& bytes) {
    const Result<spray::HeightMap> result =
        height_map_from_png(bytes, "map.png", kOver, {Millimetres{0}, Millimetres{1}});
    return result ? "taken" : result.error().message;
}

}  // namespace

TEST_CASE("heights survive a 16-bit picture", "[plan][relief]") {
    constexpr int columns = 40, rows = 20;  // cells of 5 mm
    const double low = -3, high = 1.5;
    const auto height = [&](int i, int j) {
        return low + (high - low) * std::fmod(i * 0.37 + j * 0.11, 1.0);
    };
    std::vector<int> values;
    for (int j = rows - 1; j >= 0; --j)  // the top row first
        for (int i = 0; i < columns; ++i)
            values.push_back(static_cast<int>(std::lround((height(i, j) - low) / (high - low) * 65535)));
    const spray::HeightMap map =
        map_of(grey_png(columns, rows, 16, values), {Millimetres{low}, Millimetres{high}});
    const double half_step = (high - low) / 65535 / 2;
    for (int j = 0; j < rows; ++j)
        for (int i = 0; i < columns; ++i)
            CHECK(map.at(5 * (i + 0.5), 5 * (j + 0.5)).height_mm ==
                  Approx(height(i, j)).margin(half_step * 1.01));
}

TEST_CASE("black and white have the given heights", "[plan][relief]") {
    const HeightScale scale{Millimetres{-2}, Millimetres{0.5}};
    for (const int bits : {8, 16}) {
        const int white = (1 << bits) - 1;
        const spray::HeightMap map = map_of(grey_png(2, 2, bits, {0, white, white, white}), scale);
        CHECK(map.at(0, 100).height_mm == Approx(-2));  // top left
        CHECK(map.at(200, 100).height_mm == Approx(0.5));
        CHECK(map.at(0, 0).height_mm == Approx(0.5));
    }
}

TEST_CASE("a picture that cannot be a height map is an error with a reason", "[plan][relief]") {
    const std::string good = grey_png(4, 4, 16, std::vector<int>(16, 1000));
    CHECK(refusal(good) == "taken");
    CHECK_THAT(refusal(""), Contains("map.png is not a PNG picture"));
    CHECK_THAT(refusal("GIF89a........"), Contains("not a PNG"));
    CHECK_THAT(refusal(good.substr(0, good.size() - 40)), Contains("map.png is damaged"));
    for (std::size_t length = 0; length + 12 < good.size(); ++length)  // only the end mark may be missing
        CHECK_THAT(refusal(good.substr(0, length)), Contains("map.png"));
    std::string huge = good;
    huge.replace(16, 8, big_endian(5000, 4) + big_endian(5000, 4));
    CHECK_THAT(refusal(huge), Contains("16 million pixels"));
}
