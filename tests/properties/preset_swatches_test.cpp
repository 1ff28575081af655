// The accepted colours of every coloured paint of the library: a change of the data of a preset shows here as
// a change of colour. FW_ACCEPT=1 rewrites the table; read the difference.
#include "all_paints.h"
#include "fadewright/base/files.h"
#include "fadewright/report/swatch_sheet.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <fmt/core.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <set>
#include <utility>

using namespace fadewright;
using Catch::Matchers::WithinAbs;
using test::find_paint;

namespace {

constexpr const char* kTable = "preset_swatches.csv";
constexpr double kAllowed = 0.02;  // the table is printed to two decimals

bool is_colour(const paint::Paint& paint) {
    return paint.role == paint::Role::opaque || paint.role == paint::Role::transparent ||
           paint.role == paint::Role::white;
}

std::vector<formulation::PaintSwatches> swatches() {
    const colour::Illuminant& day = colour::standard_illuminant(colour::StandardIlluminant::D65);
    std::vector<formulation::PaintSwatches> all;
    for (const paint::Paint& paint : test::all_paints())
        if (is_colour(paint))
            all.push_back(formulation::swatches_of(paint, find_paint("titanium-white"), day));
    return all;
}

std::array<std::pair<std::string, colour::Lab>, 4> columns(const formulation::PaintSwatches& s) {
    return {{{"masstone", s.masstone},
             {"let_down_10", s.let_down_10},
             {"coat_over_white", s.one_coat_over_white},
             {"coat_over_black", s.one_coat_over_black}}};
}

std::string table(const std::vector<formulation::PaintSwatches>& all) {
    std::string text =
        "# Lab (D65, 2 degrees, specular excluded) of the library's coloured paints: masstone, 1 part to 10 "
        "of\n"
        "# titanium white, one coat over a white and over a black card.\n"
        "# Source: own derivation from the presets; written by "
        "tests/properties/preset_swatches_test.cpp\n"
        "paint";
    for (const auto& [name, lab] : columns(all.front())) text += fmt::format(",{0}_L,{0}_a,{0}_b", name);
    text += "\n";
    for (const formulation::PaintSwatches& s : all) {
        text += s.id;
        // Adding zero turns a rounded -0.00 into 0.00.
        const auto two = [](double v) { return fmt::format(",{:.2f}", std::round(100 * v) / 100 + 0.0); };
        for (const auto& [name, lab] : columns(s)) text += two(lab.L) + two(lab.a) + two(lab.b);
        text += "\n";
    }
    return text;
}

}  // namespace

TEST_CASE("every coloured paint has its accepted colours", "[properties][presets]") {
    const auto all = swatches();
    if (const char* accept = std::getenv("FW_ACCEPT"); accept && std::string(accept) == "1")
        REQUIRE(write_file_atomic(test::source_path(std::string("tests/published/") + kTable), table(all)));
    std::set<std::string> listed;
    std::size_t row_at = 0;
    const auto rows = test::published_rows(kTable);
    for (const test::Row& row : rows) listed.insert(row.text("paint"));
    CHECK(listed.size() == rows.size());
    REQUIRE(rows.size() == all.size());
    for (const formulation::PaintSwatches& s : all) {
        CAPTURE(s.id);
        REQUIRE(listed.count(s.id) == 1);
        const test::Row& row = rows[row_at++];
        REQUIRE(row.text("paint") == s.id);
        for (const auto& [name, lab] : columns(s)) {
            CAPTURE(name);
            CHECK_THAT(row.number(name + "_L"), WithinAbs(lab.L, kAllowed));
            CHECK_THAT(row.number(name + "_a"), WithinAbs(lab.a, kAllowed));
            CHECK_THAT(row.number(name + "_b"), WithinAbs(lab.b, kAllowed));
        }
    }
}
