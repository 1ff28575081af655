// Plans that must stay valid, each with other parts of the format.

#include "fadewright/app/commands.h"
#include "published_table.h"
#include "run_command.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

namespace {

using namespace fadewright;
namespace fs = std::filesystem;

std::vector<std::string> good_plans() {
    std::vector<std::string> paths;
    for (const std::string folder : {"tests/plans/good", "presets/plans"})
        for (const auto& entry : fs::directory_iterator(test::source_path(folder)))
            if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
    std::sort(paths.begin(), paths.end());
    return paths;
}

app::Outcome canonical(const std::string& path) {
    return test::run(app::check, {{app::plan_file(path)}, "", {}, false, true});
}

}  // namespace

TEST_CASE("good plans are OK, without a warning", "[app][plans]") {
    REQUIRE(good_plans().size() >= 7);
    for (const std::string& path : good_plans()) {
        INFO(path);
        const app::Outcome outcome = test::run(app::check, {{app::plan_file(path)}, "", {}, false, false});
        CHECK(outcome.exit == app::Exit::ok);
        CHECK(outcome.err.empty());
        CHECK(outcome.out == path + ": OK\n");
    }
}

TEST_CASE("a good plan's canonical text is a good plan and its own canonical text", "[app][plans]") {
    for (const std::string& path : good_plans()) {
        INFO(path);
        const app::Outcome first = canonical(path);
        REQUIRE(first.exit == app::Exit::ok);
        const std::string copy = test::scratch_path("canonical.toml");
        std::ofstream(copy, std::ios::binary) << first.out;
        const app::Outcome second = canonical(copy);
        INFO(second.err);
        CHECK(second.exit == app::Exit::ok);
        CHECK(second.out == first.out);
    }
}

TEST_CASE("the canonical text fills in defaults and keeps what was written", "[app][plans]") {
    const std::string text = canonical(test::source_path("tests/plans/good/inches-and-mils.toml")).out;
    INFO(text);
    for (const char* line :
         {"width = \"304.8 mm\"", "ground = \"grey-sealer\"", "light = \"day\"", "laydown = \"wet\"",
          "overlap = \"66.7 %\"", "film = \"50.8 um\"", "speed = \"355.6 mm/s\"", "repeats = 1"})
        CHECK(text.find(line) != std::string::npos);
}
