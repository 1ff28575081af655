// Filling a block of pixels from few points: exact where colours are linear, with a bounded error elsewhere.
#include "fadewright/render/refine.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>
#include <utility>
#include <vector>

using namespace fadewright::render;

namespace {

using Field = std::function<DeviceColour(int x, int y)>;

// Replaces the spectral computation; counts and stores its requests.
struct Engine {
    Field field;
    std::set<std::pair<int, int>> requested;
    std::size_t repeats = 0;

    ShadeFn shade_fn() {
        return [this](std::span<const PixelCoord> pixels, std::span<DeviceColour> out) {
            REQUIRE(pixels.size() == out.size());
            for (std::size_t i = 0; i < pixels.size(); ++i) {
                if (!requested.insert({pixels[i].x, pixels[i].y}).second) ++repeats;
                out[i] = field(pixels[i].x, pixels[i].y);
            }
        };
    }
};

double difference_between(const DeviceColour& a, const DeviceColour& b) {
    return 100 *
           static_cast<double>(std::max({std::abs(a.r - b.r), std::abs(a.g - b.g), std::abs(a.b - b.b)}));
}

void differences(const ColourPlanes& a, const ColourPlanes& b, std::span<double> out) {
    REQUIRE(a.size() == out.size());
    REQUIRE(b.size() == out.size());
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = difference_between(a.at(i), b.at(i));
}

DeviceColour grey(double v) {
    const auto f = static_cast<float>(v);
    return {f, f, f, 0};
}

double max_difference(const Block& block, const Field& field, const ColourPlanes& colours) {
    double max_found = 0;
    for (int y = 0; y < block.height; ++y)
        for (int x = 0; x < block.width; ++x)
            max_found = std::max(max_found,
                                 difference_between(colours.at(static_cast<std::size_t>(y * block.width + x)),
                                                    field(block.x + x, block.y + y)));
    return max_found;
}

const std::vector<Block> kBlocks{{0, 0, kBlock_px, kBlock_px},
                                 {64, 32, kBlock_px, kBlock_px},
                                 {32, 96, 1, 1},
                                 {0, 0, 2, 31},
                                 {7, 3, 17, 32},
                                 {96, 0, 29, 5},
                                 {0, 0, 32, 1},
                                 {160, 128, 31, 31}};

}  // namespace

TEST_CASE("colours that vary linearly come out exactly and cheaply", "[render][refine]") {
    Engine engine{[](int x, int y) {
                      return DeviceColour{0.1f + 0.002f * static_cast<float>(x),
                                          0.7f - 0.001f * static_cast<float>(y),
                                          0.001f * static_cast<float>(x + y), 0};
                  },
                  {},
                  0};
    for (const Block& block : kBlocks) {
        engine.requested.clear();
        ColourPlanes colours;
        const std::size_t pixels =
            fill_block(block, kBlock_px, 0.01, engine.shade_fn(), differences, colours);
        CAPTURE(block.x, block.y, block.width, block.height);
        REQUIRE(colours.size() == static_cast<std::size_t>(block.width * block.height));
        CHECK(pixels == 11);  // nine of the cell, and two that verify it
        CHECK(engine.requested.size() == 11);
        CHECK(max_difference(block, engine.field, colours) < 100 * 1e-6);  // rounding of float
    }
}

TEST_CASE("no point is calculated twice, and the count is returned", "[render][refine]") {
    Engine engine{
        [](int x, int y) { return grey(0.5 + 0.4 * std::sin(0.9 * x) * std::cos(1.1 * y)); }, {}, 0};
    for (const int largest : {2, 4, 8, 16, kBlock_px})
        for (const Block& block : kBlocks) {
            engine.requested.clear();
            ColourPlanes colours;
            const std::size_t pixels =
                fill_block(block, largest, 0.01, engine.shade_fn(), differences, colours);
            CAPTURE(largest, block.width, block.height);
            CHECK(engine.repeats == 0);
            CHECK(pixels == engine.requested.size());
            // Points may be beyond the last pixels of the block, but never beyond its cells.
            for (const auto& [x, y] : engine.requested) {
                REQUIRE(x >= block.x);
                REQUIRE(y >= block.y);
                REQUIRE(x <= block.x + kBlock_px);
                REQUIRE(y <= block.y + kBlock_px);
            }
        }
}

TEST_CASE("where nothing can be interpolated every pixel is calculated", "[render][refine]") {
    // A checkerboard: no curve fits anywhere.
    const Engine board{[](int x, int y) { return grey((x + y) % 2 == 0 ? 0.9 : 0.1); }, {}, 0};
    for (const Block& block : kBlocks) {
        Engine engine = board;
        ColourPlanes colours;
        fill_block(block, 2, 0.01, engine.shade_fn(), differences, colours);
        CAPTURE(block.width, block.height);
        CHECK(max_difference(block, engine.field, colours) < 100 * 1e-6);
    }
}

TEST_CASE("a smooth curve stays within the tolerance, and costs more with a tighter one",
          "[render][refine]") {
    // Curves of a width that fits the cells: like a pass profile over about 40 pixels.
    const Field field = [](int x, int y) {
        const double u = (x - 20.0) / 24, v = (y - 11.0) / 31;
        return grey(0.2 + 0.6 * std::exp(-u * u - 0.5 * v * v));
    };
    for (const Block& block : kBlocks) {
        std::size_t before = 0;
        for (const double tolerance : {5.0, 1.0, 0.2, 0.05}) {
            Engine engine{field, {}, 0};
            ColourPlanes colours;
            const std::size_t pixels =
                fill_block(block, kBlock_px, tolerance, engine.shade_fn(), differences, colours);
            CAPTURE(block.x, block.y, block.width, block.height, tolerance, pixels);
            // The tested points are within the tolerance and the remaining error is much smaller, since the
            // error of a parabola falls with the cube of its length.
            CHECK(max_difference(block, field, colours) <= tolerance);
            CHECK(pixels >= before);
            before = pixels;
        }
    }
}

TEST_CASE("a step in one corner is found and refined only there", "[render][refine]") {
    const Field field = [](int x, int y) { return grey(x + y < 9 ? 0.9 : 0.2); };
    Engine engine{field, {}, 0};
    const Block block{0, 0, kBlock_px, kBlock_px};
    ColourPlanes colours;
    const std::size_t pixels = fill_block(block, 8, 0.2, engine.shade_fn(), differences, colours);
    CHECK(max_difference(block, field, colours) < 100 * 1e-6);
    CHECK(pixels < 400);  // of 1089
    CHECK(colours.r[31 * kBlock_px + 31] == 0.2f);
}

TEST_CASE("a change in one direction is refined in that direction only", "[render][refine]") {
    const auto wave = [](double t) { return grey(0.5 + 0.3 * std::sin(0.5 * t)); };
    const auto pixels_of = [](const Field& field) {
        Engine engine{field, {}, 0};
        ColourPlanes colours;
        const Block block{0, 0, kBlock_px, kBlock_px};
        const std::size_t pixels = fill_block(block, kBlock_px, 0.2, engine.shade_fn(), differences, colours);
        CHECK(max_difference(block, field, colours) < 0.2);
        return pixels;
    };
    const std::size_t down = pixels_of([&](int, int y) { return wave(y); });
    const std::size_t across = pixels_of([&](int x, int) { return wave(x); });
    const std::size_t both = pixels_of([&](int x, int y) { return wave(0.7 * x + 0.7 * y); });
    CHECK(down == across);
    CHECK(3 * down < both);
}

TEST_CASE("the largest cell size prevents narrow stripes from being skipped", "[render][refine]") {
    // A stripe 6 pixels wide between the points of a 32-pixel cell is skipped; with cells of 4 it is found.
    const Field field = [](int x, int) { return grey(x >= 9 && x < 15 ? 0.9 : 0.2); };
    const Block block{0, 0, kBlock_px, kBlock_px};
    ColourPlanes colours;
    Engine coarse{field, {}, 0};
    fill_block(block, kBlock_px, 0.2, coarse.shade_fn(), differences, colours);
    CHECK(max_difference(block, field, colours) > 50);
    Engine fine{field, {}, 0};
    fill_block(block, 4, 0.2, fine.shade_fn(), differences, colours);
    CHECK(max_difference(block, field, colours) < 100 * 1e-6);
}

TEST_CASE("the out-of-gamut mark is interpolated like the colours", "[render][refine]") {
    const Field field = [](int x, int) {
        DeviceColour c = grey(0.5);
        c.out_of_gamut = x >= 16 ? 1.0f : 0.0f;
        return c;
    };
    Engine engine{field, {}, 0};
    ColourPlanes colours;
    fill_block({0, 0, kBlock_px, kBlock_px}, 8, 0.2, engine.shade_fn(), differences, colours);
    int out_of_gamut = 0;
    for (const float mark : colours.out_of_gamut)
        if (mark > 0.5f) ++out_of_gamut;
    // The edge may be off by half a quarter cell, since the mark alone does not cause refinement.
    CHECK(std::abs(out_of_gamut - kBlock_px * 16) <= kBlock_px * 4);
}
