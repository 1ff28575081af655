// Cells are quoted so that every reader finds the same text; tables of numbers are read whole or not at all.

#include "fadewright/base/strings.h"

#include <catch2/catch.hpp>

using namespace fadewright;

TEST_CASE("a cell is quoted where it must be", "[base][csv]") {
    CHECK(csv_cell("deep blue") == "deep blue");
    CHECK(csv_cell("") == "");
    CHECK(csv_cell("blue, deep") == "\"blue, deep\"");
    CHECK(csv_cell("3\" wide") == "\"3\"\" wide\"");
    CHECK(csv_cell("two\nlines") == "\"two\nlines\"");
    CHECK(csv_cell("two\rlines") == "\"two\rlines\"");
}

TEST_CASE("a table of numbers begins after comments and names", "[base][csv]") {
    using Rows = std::vector<std::vector<double>>;
    CHECK(number_table("# a, b\n#\nnm,x\n380,1.5e-3\n# between\n\n385,-2\n") ==
          Rows{{380, 1.5e-3}, {385, -2}});
    CHECK(number_table("nm\r\n380\r\n385") == Rows{{380}, {385}});
    CHECK(number_table("nm,x\n").empty());
    CHECK(number_table("").empty());
}

TEST_CASE("blanks around a text are left out", "[base]") {
    CHECK(trim(" \t a b\r\n") == "a b");
    CHECK(trim("ab") == "ab");
    CHECK(trim(" \t").empty());
    CHECK(trim("").empty());
}
