// Items of the library: read when needed, replaced by later files, null with mistakes.
#include "fadewright/plan/library.h"

#include "preset_library.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <memory>

using namespace fadewright;
using namespace fadewright::plan;

TEST_CASE("every item that the presets list can be read", "[plan][library]") {
    Library library = test::preset_library();
    for (const std::string& name : library.names(LibraryKind::paints)) CHECK(library.paint(name));
    for (const std::string& name : library.names(LibraryKind::grounds)) CHECK(library.ground(name));
    for (const std::string& name : library.names(LibraryKind::guns)) CHECK(library.gun(name));
    for (const std::string& name : library.names(LibraryKind::panels)) CHECK(library.panel(name));
    for (const std::string& name : library.names(LibraryKind::lights)) CHECK(library.light(name));
    CHECK(library.names(LibraryKind::paints).size() > 20);
}

TEST_CASE("an item is read once; there is none of an unknown name, and nothing is said about it",
          "[plan][library]") {
    Library library = test::preset_library();
    CHECK(library.gun("fan-gun-small") == library.gun("fan-gun-small"));
    Diagnostics diagnostics;
    CHECK_FALSE(library.gun("no-such-gun"));
    CHECK_FALSE(library.gun("no-such-gun", diagnostics));
    CHECK(diagnostics.empty());
    CHECK_FALSE(library.file(LibraryKind::guns, "no-such-gun"));
}

TEST_CASE("a file replaces the item of its name", "[plan][library]") {
    Library library = test::preset_library();
    REQUIRE(library.light("day"));
    const std::string before = library.light("day")->title;
    library.add_file(LibraryKind::lights, "day",
                     std::make_shared<Source>("lights/day.toml",
                                              "light = 1\ntitle = \"another day\"\nsource = \"this test\"\n"
                                              "table = \"D65\"\n"));
    REQUIRE(library.light("day"));
    CHECK(library.light("day")->title == "another day");
    CHECK(before != "another day");
}

TEST_CASE("the mistakes of a file are given to every list, in its units", "[plan][library]") {
    Library library = test::preset_library();
    library.add_file(LibraryKind::panels, "tiny",
                     std::make_shared<Source>("panels/tiny.toml", "width = \"0 mm\"\nheight = \"100 mm\"\n"));
    CHECK_FALSE(library.panel("tiny"));  // read once without a list
    Diagnostics metric, us, again;
    us.set_units(UnitSystem::us);
    CHECK_FALSE(library.panel("tiny", metric));
    CHECK_FALSE(library.panel("tiny", us));
    CHECK_FALSE(library.panel("tiny", again));
    REQUIRE(metric.sorted_list().size() == 1);
    REQUIRE(us.sorted_list().size() == 1);
    CHECK(metric.sorted_list()[0].hint.find(" mm") != std::string::npos);
    CHECK(us.sorted_list()[0].hint.find(" in") != std::string::npos);
    CHECK(to_text(again) == to_text(metric));
}
