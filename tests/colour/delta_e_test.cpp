#include "fadewright/colour/delta_e.h"

#include "published_table.h"

#include <catch2/catch.hpp>

using namespace fadewright::colour;
using Catch::Matchers::WithinAbs;

TEST_CASE("CIEDE2000 agrees with every pair of Sharma 2005, Table 1, in both orders", "[colour][published]") {
    const auto rows = fadewright::test::published_rows("sharma2005_ciede2000.csv");
    REQUIRE(rows.size() == 34);
    for (const auto& row : rows) {
        CAPTURE(row.text("pair"));
        const Lab first{row.number("L1"), row.number("a1"), row.number("b1")};
        const Lab second{row.number("L2"), row.number("a2"), row.number("b2")};
        // The table is printed to four places.
        CHECK_THAT(delta_e_2000(first, second), WithinAbs(row.number("dE00"), 5e-5));
        CHECK_THAT(delta_e_2000(second, first), WithinAbs(row.number("dE00"), 5e-5));
    }
}

TEST_CASE("a colour does not differ from itself, grey and black included", "[colour]") {
    for (const Lab& lab : {Lab{0, 0, 0}, Lab{50, 0, 0}, Lab{50, 30, -40}, Lab{100, 0, 0}})
        CHECK(delta_e_2000(lab, lab) == 0);
}

TEST_CASE("near mid grey a lightness difference has weight 1", "[colour]") {
    // S_L is 1 at L* = 50, and without chroma there are no other terms.
    CHECK_THAT(delta_e_2000({49.5, 0, 0}, {50.5, 0, 0}), WithinAbs(1.0, 1e-12));
}
