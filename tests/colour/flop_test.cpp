#include "fadewright/colour/lab.h"

#include "published_table.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using Catch::Matchers::WithinAbs;
using colour::flop_index;

TEST_CASE("the flop index agrees with its table", "[colour][published]") {
    for (const auto& row : test::published_rows("flop_index.csv"))
        CHECK_THAT(flop_index(row.number("L15"), row.number("L45"), row.number("L110")),
                   WithinAbs(row.number("flop"), 5.1e-5));  // half of the last printed place
}

TEST_CASE("solid, inverted and black colours have no flop", "[colour]") {
    CHECK(flop_index(40, 45, 50) == 0);
    CHECK(flop_index(10, 0, 0) == 0);
    CHECK(flop_index(0, 0, 0) == 0);
    CHECK(flop_index(10, -1, 0) == 0);
    CHECK(flop_index(std::nan(""), 50, 20) == 0);
}
