// Names in a plan: what they mean, and what is said about those that mean nothing.
#include "fadewright/plan/names.h"

#include "preset_library.h"

#include <catch2/catch.hpp>

#include <memory>

using namespace fadewright;
using namespace fadewright::plan;

namespace {

Diagnostic only_mistake(const Diagnostics& diagnostics) {
    REQUIRE(diagnostics.sorted_list().size() == 1);
    return diagnostics.sorted_list().front();
}

}  // namespace

TEST_CASE("an unknown name gets the closest one, a short list, or where to find the list", "[plan][names]") {
    const auto hint = [](const std::string& name, const std::vector<std::string>& known) {
        Diagnostics diagnostics;
        report_unknown("P022", "mask", {name, {}}, known, diagnostics);
        CHECK(only_mistake(diagnostics).message == "no mask is called '" + name + "'");
        return only_mistake(diagnostics).hint;
    };
    CHECK(hint("staar", {"moon", "star"}) == "did you mean 'star'?");
    CHECK(hint("unlike", {"moon", "star"}) == "known: moon, star");
    CHECK(hint("unlike", std::vector<std::string>(13, "moon")) == "the library lists all names");
    CHECK(hint("unlike", {}) == "there is no mask in the library");
}

TEST_CASE("a known item is found without a message, an unknown one is reported under the given rule",
          "[plan][names]") {
    Library library = test::preset_library();
    Diagnostics good;
    CHECK(find_paint("P001", "paint", {"carbon-black", {}}, library, good));
    CHECK(find_ground("P004", {kDefaultGround, {}}, library, good));
    CHECK(find_gun("P003", {"fan-gun-small", {}}, library, good));
    CHECK(find_light("P005", {kDefaultLight, {}}, library, good));
    CHECK(good.empty());
    Diagnostics bad;
    CHECK_FALSE(find_ground("G008", {"grey-sealr", {}}, library, bad));
    CHECK(only_mistake(bad).rule == "G008");
    CHECK(only_mistake(bad).hint == "did you mean 'grey-sealer'?");
}

TEST_CASE("an item with a wrong file is not called unknown: its file's mistakes are reported",
          "[plan][names]") {
    Library library = test::preset_library();
    library.add_file(
        LibraryKind::lights, "odd",
        std::make_shared<Source>("lights/odd.toml", "light = 1\ntitle = \"odd\"\nsource = \"this test\"\n"));
    for (int time = 0; time < 2; ++time) {
        Diagnostics diagnostics;
        CHECK_FALSE(find_light("P005", {"odd", {}}, library, diagnostics));
        CHECK(only_mistake(diagnostics).rule == "S005");
        CHECK_FALSE(find_light("P005", {"odd", {}}, library, diagnostics));
        CHECK(only_mistake(diagnostics).rule == "S005");  // the same list has it once
    }
}
