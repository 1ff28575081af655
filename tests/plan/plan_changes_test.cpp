// What changed between two plans, in words.
#include "fadewright/plan/plan_changes.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/job.h"
#include "published.h"

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

std::string preset() {
    return read_whole(test::source_path("presets/plans/dusk-fade.toml"), kTextFileLimit_bytes).value();
}

// What is said when one piece of the preset's text is written otherwise.
std::vector<std::string> changed(const std::string& piece, const std::string& to) {
    const std::string before = preset();
    std::string now = before;
    const std::size_t at = now.find(piece);
    REQUIRE(at != std::string::npos);
    now.replace(at, piece.size(), to);
    return plan::plan_changes(plan_of(before), plan_of(now));
}

using Words = std::vector<std::string>;

}  // namespace

TEST_CASE("of a plan that only looks different nothing is said", "[plan][record]") {
    CHECK(plan::plan_changes(plan_of(preset()), plan_of(preset())) == Words{});
    CHECK(changed("plan = 1", "# another remark\nplan   =   1") == Words{});
    CHECK(changed("\"560 mm\"", "\"56 cm\"") == Words{});
}

TEST_CASE("changed mixes are told part by part", "[plan][record]") {
    CHECK(changed("carbon-black = 0.5", "carbon-black = 0.6") ==
          Words{"mix 'plum', carbon-black: 0.5 -> 0.6"});
    CHECK(changed("carbon-black = 0.5, ", "") == Words{"mix 'plum', carbon-black: is gone"});
    CHECK(changed("carbon-black = 0.5", "carbon-black = 0.5, burnt-sienna = 1") ==
          Words{"mix 'plum', burnt-sienna: is new"});
    CHECK(changed("extend = 2", "extend = 2.5") == Words{"mix 'middle': extend 2 -> 2.5"});
    CHECK(changed("reduce = \"10 %\"", "reduce = \"15 %\"") == Words{"mix 'apricot': reduce 10 % -> 15 %"});
    CHECK(changed("[mixes.pale]", "[mixes.spare]\nparts = { plum = 1 }\n[mixes.pale]") ==
          Words{"mix 'spare': is new"});
}

TEST_CASE("changed coats are told by their names", "[plan][record]") {
    CHECK(changed("cover.film = \"55 um\"", "cover.film = \"60 um\"") ==
          Words{"coat 'clear', cover: film 55 um -> 60 um"});
    CHECK(changed("flow = \"45 mL/min\"", "flow = \"50 mL/min\"") ==
          Words{"coat 'middle': flow 45 mL/min -> 50 mL/min"});
    CHECK(changed("flow = \"45 mL/min\"\n", "") == Words{"coat 'middle': flow 45 mL/min -> none"});
    CHECK(changed("speed = \"800 mm/s\"", "speed = \"820 mm/s\"") == Words{"coat 'middle': passes changed"});
    CHECK(changed("name = \"plum\"", "name = \"dark end\"") ==
          Words{"coat 'plum': is gone", "coat 'dark end': is new"});
}

TEST_CASE("coats laid in another order are told", "[plan][record]") {
    const plan::Plan before = plan_of(preset());
    plan::Plan now = before;
    std::swap(now.coats[0], now.coats[1]);
    CHECK(plan::plan_changes(before, now) == Words{"the coats are laid in another order"});
}

TEST_CASE("panel, view and the rest are told field by field", "[plan][record]") {
    CHECK(changed("ground = \"grey-sealer\"", "ground = \"white-primer\"") ==
          Words{"panel: ground grey-sealer -> white-primer"});
    CHECK(changed("distance = \"1.5 m\"", "distance = \"2 m\"") ==
          Words{"view: distance 1500 mm -> 2000 mm"});
    CHECK(changed("[view]", "[booth]\ntemperature = \"25 degC\"\n[view]").size() == 1);
}
