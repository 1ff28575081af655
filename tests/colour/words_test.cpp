#include "fadewright/colour/words.h"

#include "fadewright/colour/srgb.h"

#include <catch2/catch.hpp>

#include <set>
#include <string>

using namespace fadewright::colour;

namespace {

std::string words_of(std::uint8_t r, std::uint8_t g, std::uint8_t b) {
    return colour_words(lab_of_srgb({r, g, b}));
}

std::string words_at(double L, double C, double h) { return colour_words(to_lab(LCh{L, C, h})); }

}  // namespace

TEST_CASE("greys are named by lightness and cast", "[colour]") {
    CHECK(colour_words({100, 0, 0}) == "white");
    CHECK(colour_words({3, 0, 0}) == "black");
    CHECK(colour_words({53, 0, 0}) == "grey");
    CHECK(colour_words({20, 0, 0}) == "dark grey");
    CHECK(words_at(82, 4, 70) == "pale warm grey");
    CHECK(words_at(60, 4, 250) == "cool grey");
    CHECK(words_at(60, 4, 150) == "greenish grey");
}

TEST_CASE("the screen's own colours have the names anyone gives them", "[colour]") {
    CHECK(words_of(255, 0, 0) == "vivid red");
    CHECK(words_of(255, 255, 0) == "vivid yellow");
    CHECK(words_of(0, 255, 0) == "vivid green");
    CHECK(words_of(0, 90, 200) == "vivid blue");
    CHECK(words_of(255, 140, 0) == "vivid orange");
    CHECK(words_of(255, 0, 255) == "vivid magenta");
    CHECK(words_of(110, 40, 150) == "deep violet");
    CHECK(words_of(64, 224, 208) == "pale blue-green");
    CHECK(words_of(255, 182, 193) == "pale pink");
}

TEST_CASE("dark orange and yellow are browns, dark red-violet is deep", "[colour]") {
    CHECK(words_of(101, 67, 33) == "brown");
    CHECK(words_at(30, 40, 330) == "deep red-violet");
    CHECK(words_at(30, 12, 330) == "deep greyish red-violet");
}

TEST_CASE("every hue has a name, and the circle closes", "[colour]") {
    std::set<std::string> names;
    for (double h = 0; h < 360; h += 1) {
        const std::string words = words_at(60, 40, h);
        CHECK_FALSE(words.empty());
        names.insert(words);
    }
    CHECK(names.size() >= 12);
    CHECK(words_at(60, 40, 359.9) == words_at(60, 40, 0.1));
}
