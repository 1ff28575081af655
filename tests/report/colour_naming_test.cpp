#include "fadewright/report/colour_naming.h"

#include "fadewright/colour/srgb.h"

#include <catch2/catch.hpp>

#include <set>
#include <string>

using namespace fadewright::colour;
using fadewright::report::colour_name;

namespace {

std::string name_of_srgb(std::uint8_t r, std::uint8_t g, std::uint8_t b) {
    return colour_name(lab_of_srgb({r, g, b}));
}

std::string name_at(double L, double C, double h) { return colour_name(to_lab(LCh{L, C, h})); }

}  // namespace

TEST_CASE("greys are named by lightness and cast", "[report]") {
    CHECK(colour_name({100, 0, 0}) == "white");
    CHECK(colour_name({3, 0, 0}) == "black");
    CHECK(colour_name({53, 0, 0}) == "grey");
    CHECK(colour_name({20, 0, 0}) == "dark grey");
    CHECK(name_at(82, 4, 70) == "pale warm grey");
    CHECK(name_at(60, 4, 250) == "cool grey");
    CHECK(name_at(60, 4, 150) == "greenish grey");
}

TEST_CASE("the primary colours of the screen have their common names", "[report]") {
    CHECK(name_of_srgb(255, 0, 0) == "vivid red");
    CHECK(name_of_srgb(255, 255, 0) == "vivid yellow");
    CHECK(name_of_srgb(0, 255, 0) == "vivid green");
    CHECK(name_of_srgb(0, 90, 200) == "vivid blue");
    CHECK(name_of_srgb(255, 140, 0) == "vivid orange");
    CHECK(name_of_srgb(255, 0, 255) == "vivid magenta");
    CHECK(name_of_srgb(110, 40, 150) == "deep violet");
    CHECK(name_of_srgb(64, 224, 208) == "pale blue-green");
    CHECK(name_of_srgb(255, 182, 193) == "pale pink");
}

TEST_CASE("dark orange and yellow are browns, dark red-violet is deep", "[report]") {
    CHECK(name_of_srgb(101, 67, 33) == "brown");
    CHECK(name_at(30, 40, 330) == "deep red-violet");
    CHECK(name_at(30, 12, 330) == "deep greyish red-violet");
}

TEST_CASE("every hue has a name, and the circle closes", "[report]") {
    std::set<std::string> names;
    for (double h = 0; h < 360; h += 1) {
        const std::string name = name_at(60, 40, h);
        CHECK_FALSE(name.empty());
        names.insert(name);
    }
    CHECK(names.size() >= 12);
    CHECK(name_at(60, 40, 359.9) == name_at(60, 40, 0.1));
}
