// The record through the bench: the command's own answers, kept beside the plan and nowhere else.
#include "test_server.h"

#include "fadewright/base/files.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <filesystem>
#include <thread>

using namespace fadewright;
using test::demo;
using test::Json;
using test::TestServer;

namespace {

Json question() { return {{"file", "job.toml"}, {"text", demo()}}; }

Json with_entry(const Json& entry) {
    Json asked = question();
    asked["entry"] = entry;
    return asked;
}

}  // namespace

TEST_CASE("an entry is kept beside the plan and read back as the command reads it", "[serve][records]") {
    const TestServer server("record");
    server.put("job.toml", demo());
    CHECK(server.ask("record", question()).json()["entries"].empty());
    CHECK_FALSE(std::filesystem::exists(server.path("job.record.toml")));
    const auto added =
        server.ask("record", with_entry({{"mix", "plum"},
                                         {"grams", {"quinacridone-violet=12.3 g", "carbon-black=1.1 g"}},
                                         {"bottles", {"carbon-black=B1207"}},
                                         {"temperature", "22 degC"},
                                         {"note", "a little more violet, \"by eye\""}}));
    REQUIRE(added.status == 200);
    REQUIRE(server.ask("record", with_entry({{"coat", "dusk: middle"}, {"air", "1.2 bar"}})).status == 200);
    const auto listed = server.ask("record", question());
    CHECK(listed.body == test::program_output(server.folder(), {"record", "job.toml", "--list", "--json"}));
    const Json entries = listed.json()["entries"];
    REQUIRE(entries.size() == 2);
    CHECK(entries[0]["poured_g"]["quinacridone-violet"] == 12.3);
    CHECK(entries[0]["bottles"]["carbon-black"] == "B1207");
    CHECK(entries[0]["words"].get<std::string>().find("mixed 'plum'") != std::string::npos);
    CHECK(entries[1]["gun"]["air_bar"] == 1.2);
    CHECK(server.get("job.toml") == demo());
}

TEST_CASE("an entry that cannot be is refused in words and nothing is kept", "[serve][records]") {
    const TestServer server("record-wrong");
    server.put("job.toml", demo());
    const auto status = [&](const Json& entry) { return server.ask("record", with_entry(entry)).status; };
    const auto misspelt = server.ask("record", with_entry({{"mix", "plumm"}}));
    CHECK(misspelt.status == 422);
    CHECK(misspelt.json()["hint"].get<std::string>().find("did you mean 'plum'?") != std::string::npos);
    CHECK(status({{"temperature", "22 mm"}}) == 422);
    CHECK(status(Json::object()) == 422);
    CHECK(status({{"file", "elsewhere.toml"}, {"note", "x"}}) == 400);
    CHECK(status({{"shelf", "/"}, {"note", "x"}}) == 400);
    CHECK(status({{"note", 5}}) == 400);
    CHECK(status({{"grams", {1, 2}}}) == 400);
    CHECK(status("note") == 400);
    Json nameless = with_entry({{"note", "x"}});
    nameless["file"] = "../job.toml";
    CHECK(server.ask("record", nameless).status == 400);
    CHECK_FALSE(std::filesystem::exists(server.path("job.record.toml")));
    const std::string outside = server.folder() + "-outside.toml";
    std::filesystem::create_symlink(outside, server.path("job.record.toml"));
    CHECK(status({{"note", "x"}}) == 403);
    CHECK_FALSE(std::filesystem::exists(outside));
}

TEST_CASE("entries that come at once are all kept", "[serve][records]") {
    const TestServer server("record-many");
    server.put("job.toml", demo());
    std::vector<std::thread> painters;
    for (int i = 0; i < 8; ++i)
        painters.emplace_back([&, i] {
            (void)server.ask("record", with_entry({{"note", "painter " + std::to_string(i)}}));
        });
    for (std::thread& painter : painters) painter.join();
    CHECK(server.ask("record", question()).json()["entries"].size() == 8);
}
