#include "fadewright/formulation/drawdown.h"

#include <catch2/catch.hpp>

#include <vector>

using fadewright::colour::Lab;
using fadewright::formulation::chroma_peak;

TEST_CASE("the peak is the step of greatest chroma, if lightness keeps rising", "[film]") {
    const std::vector<Lab> steps{{20, 0, 10}, {30, 0, 25}, {40, 0, 22}, {50, 0, 18}};
    REQUIRE(chroma_peak(steps));
    CHECK(*chroma_peak(steps) == 1);
}

TEST_CASE("there is no peak where chroma still rises, lightness falls, or chroma is low", "[film]") {
    CHECK_FALSE(chroma_peak(std::vector<Lab>{}));
    CHECK_FALSE(chroma_peak(std::vector<Lab>{{20, 0, 10}}));
    CHECK_FALSE(chroma_peak(std::vector<Lab>{{20, 0, 10}, {30, 0, 25}, {40, 0, 26}}));
    CHECK_FALSE(chroma_peak(std::vector<Lab>{{50, 0, 10}, {40, 0, 25}, {30, 0, 22}}));
    CHECK_FALSE(chroma_peak(std::vector<Lab>{{50, 0, 10}, {60, 0, 25}, {70, 0, 22}, {69, 0, 20}}));
    CHECK_FALSE(chroma_peak(std::vector<Lab>{{50, 0, 5}, {60, 0, 9}, {70, 0, 7}}));
}
