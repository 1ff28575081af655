// Colour difference of pictures.
#include "fadewright/render/compare.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/srgb.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace fadewright;
using namespace fadewright::render;
using Catch::Matchers::WithinAbs;

namespace {

Picture flat(int width, int height, std::uint8_t value) {
    Picture picture(width, height, 3);
    std::fill(picture.samples.begin(), picture.samples.end(), value);
    return picture;
}

}  // namespace

TEST_CASE("a picture equals itself", "[render][compare]") {
    const Picture a = flat(30, 20, 77);
    const auto same = difference(a, a);
    REQUIRE(same);
    CHECK(*same == Difference{});
    const Picture map = difference_picture(a, a, 1);
    CHECK(std::all_of(map.samples.begin(), map.samples.end(), [](std::uint8_t v) { return v == 0; }));
}

TEST_CASE("pictures of different sizes cannot be compared", "[render][compare]") {
    CHECK_FALSE(difference(flat(30, 20, 77), flat(20, 30, 77)));
    CHECK_FALSE(difference(flat(30, 20, 77), flat(30, 21, 77)));
}

TEST_CASE("a single different pixel is the maximum difference and hardly changes the mean",
          "[render][compare]") {
    const Picture a = flat(50, 40, 100);
    Picture b = a;
    b.pixel(13, 29)[0] = 180;
    const double dE =
        colour::delta_e_2000(colour::lab_of_srgb({100, 100, 100}), colour::lab_of_srgb({180, 100, 100}));
    const auto result = difference(a, b);
    REQUIRE(result);
    CHECK_THAT(result->max, WithinAbs(dE, 1e-5));
    CHECK_THAT(result->mean, WithinAbs(dE / 2000, 1e-7));
    CHECK(result->p999 == 0);  // 1 of 2000 pixels
    CHECK(result->worst_x == 13);
    CHECK(result->worst_y == 29);
    CHECK(*difference(b, a) == *result);  // CIEDE2000 is the same in both orders
    const Picture map = difference_picture(a, b, dE / 2);
    CHECK(map.pixel(13, 29)[0] == 255);
    CHECK(map.pixel(13, 29)[2] == 255);
    CHECK(map.pixel(12, 29)[2] == 0);
}

TEST_CASE("two pixels in a thousand show in the 99.9th percentile", "[render][compare]") {
    const Picture a = flat(50, 40, 100);
    Picture b = a;
    for (int x = 0; x < 4; ++x) b.pixel(x, 0)[1] = 130;
    const auto result = difference(a, b);
    REQUIRE(result);
    CHECK(result->p999 == result->max);
    CHECK(result->max > 5);
}
