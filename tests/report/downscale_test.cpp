#include "fadewright/report/downscale.h"

#include <catch2/catch.hpp>

using namespace fadewright;

namespace {

Picture checkered(int width, int height) {
    Picture picture(width, height, 3);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int c = 0; c < 3; ++c) picture.pixel(x, y)[c] = (x + y) % 2 == 0 ? 255 : 0;
    return picture;
}

}  // namespace

TEST_CASE("half black and half white become the grey of half the light", "[report]") {
    // [iec61966]: 50 % of the light of white is encoded as 1.055 * 0.5^(1/2.4) - 0.055 = 0.7354, 188 of 255.
    const Picture small = report::downscale(checkered(64, 32), 16);
    CHECK(small.width == 16);
    CHECK(small.height == 8);
    for (const std::uint8_t sample : small.samples) REQUIRE(sample == 188);
}

TEST_CASE("an even picture stays even at any size, and a small one stays unchanged", "[report]") {
    Picture even(100, 70, 3);
    for (std::size_t i = 0; i < even.samples.size(); ++i)
        even.samples[i] = static_cast<std::uint8_t>(50 + 60 * (i % 3));
    for (const int size : {99, 64, 37, 10, 1}) {
        const Picture small = report::downscale(even, size);
        CHECK(small.width == size);
        for (std::size_t i = 0; i < small.samples.size(); ++i) REQUIRE(small.samples[i] == 50 + 60 * (i % 3));
    }
    CHECK(report::downscale(even, 100).samples == even.samples);
    CHECK(report::downscale(even, 4000).samples == even.samples);
}

TEST_CASE("an edge inside a new pixel is weighted by the area on either side", "[report]") {
    // 3 pixels to 2: the centre one covers a third of each new one.
    Picture edge(3, 1, 3);
    for (int c = 0; c < 3; ++c) edge.pixel(0, 0)[c] = 255;
    const Picture small = report::downscale(edge, 2);
    REQUIRE(small.width == 2);
    // Two thirds of the light: 1.055 * (2/3)^(1/2.4) - 0.055 = 0.8360, 213 of 255.
    CHECK(small.pixel(0, 0)[0] == 213);
    CHECK(small.pixel(1, 0)[0] == 0);
}
