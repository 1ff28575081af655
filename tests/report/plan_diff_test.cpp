// Differences between two plans.
#include "fadewright/report/plan_diff.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/read_plan.h"
#include "published_table.h"

#include <catch2/catch.hpp>

using namespace fadewright;

namespace {

plan::Plan plan_of(const std::string& text) {
    Diagnostics diagnostics;
    const auto plan = plan::read_plan(std::make_shared<Source>("plan", text), diagnostics);
    INFO(to_text(diagnostics));
    REQUIRE(plan);
    return *plan;
}

std::string preset_text() {
    return read_file_bytes(test::source_path("presets/plans/dusk-fade.toml"), kTextFileLimit_bytes).value();
}

// The differences after one change of the preset's text.
std::vector<std::string> changes_after(const std::string& piece, const std::string& to) {
    const std::string before = preset_text();
    std::string now = before;
    const std::size_t at = now.find(piece);
    REQUIRE(at != std::string::npos);
    now.replace(at, piece.size(), to);
    return report::plan_diff(plan_of(before), plan_of(now));
}

using Lines = std::vector<std::string>;

}  // namespace

TEST_CASE("a different layout is not a difference", "[report][record]") {
    CHECK(report::plan_diff(plan_of(preset_text()), plan_of(preset_text())) == Lines{});
    CHECK(changes_after("plan = 1", "# another remark\nplan   =   1") == Lines{});
    CHECK(changes_after("\"560 mm\"", "\"56 cm\"") == Lines{});
}

TEST_CASE("changed mixes are listed part by part", "[report][record]") {
    CHECK(changes_after("carbon-black = 0.5", "carbon-black = 0.6") ==
          Lines{"mix 'plum', carbon-black: 0.5 -> 0.6"});
    CHECK(changes_after("carbon-black = 0.5, ", "") == Lines{"mix 'plum', carbon-black: is gone"});
    CHECK(changes_after("carbon-black = 0.5", "carbon-black = 0.5, burnt-sienna = 1") ==
          Lines{"mix 'plum', burnt-sienna: is new"});
    CHECK(changes_after("extend = 2", "extend = 2.5") == Lines{"mix 'mid-colour': extend 2 -> 2.5"});
    CHECK(changes_after("reduce = \"10 %\"", "reduce = \"15 %\"") ==
          Lines{"mix 'apricot': reduce 10 % -> 15 %"});
    CHECK(changes_after("[mixes.pale]", "[mixes.spare]\nparts = { plum = 1 }\n[mixes.pale]") ==
          Lines{"mix 'spare': is new"});
}

TEST_CASE("changed coats are listed by name", "[report][record]") {
    CHECK(changes_after("even_coat.film = \"55 um\"", "even_coat.film = \"60 um\"") ==
          Lines{"coat 'clear', even_coat: film 55 µm -> 60 µm"});
    CHECK(changes_after("flow = \"45 mL/min\"", "flow = \"50 mL/min\"") ==
          Lines{"coat 'mid colour': flow 45 mL/min -> 50 mL/min"});
    CHECK(changes_after("flow = \"45 mL/min\"\n", "") == Lines{"coat 'mid colour': flow 45 mL/min -> none"});
    CHECK(changes_after("speed = \"800 mm/s\"", "speed = \"820 mm/s\"") ==
          Lines{"coat 'mid colour': passes changed"});
    CHECK(changes_after("name = \"plum\"", "name = \"dark end\"") ==
          Lines{"coat 'plum': is gone", "coat 'dark end': is new"});
}

TEST_CASE("a different order of coats is listed", "[report][record]") {
    const plan::Plan before = plan_of(preset_text());
    plan::Plan now = before;
    std::swap(now.coats[0], now.coats[1]);
    CHECK(report::plan_diff(before, now) == Lines{"the coats are in a different order"});
}

TEST_CASE("panel, view and the rest are listed field by field", "[report][record]") {
    CHECK(changes_after("ground = \"grey-sealer\"", "ground = \"white-primer\"") ==
          Lines{"panel: ground grey-sealer -> white-primer"});
    CHECK(changes_after("distance = \"1.5 m\"", "distance = \"2 m\"") ==
          Lines{"view: distance 1500 mm -> 2000 mm"});
    CHECK(changes_after("[view]", "[booth]\ntemperature = \"25 degC\"\n[view]").size() == 1);
}
