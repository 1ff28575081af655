// The job log over HTTP: the answers of the command, stored next to the plan and nowhere else.
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

Json log_request() { return {{"file", "job.toml"}, {"text", demo()}}; }

Json entry_request(const Json& entry) {
    Json request = log_request();
    request["entry"] = entry;
    return request;
}

}  // namespace

TEST_CASE("an entry is stored next to the plan and listed as the command lists it", "[serve][records]") {
    const TestServer server("record");
    server.put("job.toml", demo());
    CHECK(server.request("record", log_request()).json()["entries"].empty());
    CHECK_FALSE(std::filesystem::exists(server.path("job.record.toml")));
    const auto added = server.request(
        "record", entry_request({{"mix", "plum"},
                                 {"weights", {"quinacridone-violet=12.3 g", "carbon-black=1.1 g"}},
                                 {"batch_numbers", {"carbon-black=B1207"}},
                                 {"temperature", "22 degC"},
                                 {"note", "a little more violet, \"by eye\""}}));
    REQUIRE(added.status == 200);
    const auto sprayed =
        server.request("record", entry_request({{"coat", "dusk: mid colour"}, {"air", "1.2 bar"}}));
    REQUIRE(sprayed.status == 200);
    const auto listed = server.request("record", log_request());
    CHECK(listed.body == test::program_output(server.folder(), {"record", "job.toml", "--list", "--json"}));
    const Json entries = listed.json()["entries"];
    REQUIRE(entries.size() == 2);
    CHECK(entries[0]["weights"]["quinacridone-violet"] == 12.3);
    CHECK(entries[0]["batch_numbers"]["carbon-black"] == "B1207");
    CHECK(entries[0]["text"].get<std::string>().find("mixed 'plum'") != std::string::npos);
    CHECK(entries[1]["gun"]["air_bar"] == 1.2);
    CHECK(server.get("job.toml") == demo());
}

TEST_CASE("an invalid entry is rejected with the reason and nothing is stored", "[serve][records]") {
    const TestServer server("record-wrong");
    server.put("job.toml", demo());
    const auto status = [&](const Json& entry) {
        return server.request("record", entry_request(entry)).status;
    };
    const auto misspelt = server.request("record", entry_request({{"mix", "plumm"}}));
    CHECK(misspelt.status == 422);
    CHECK(misspelt.json()["hint"].get<std::string>().find("did you mean 'plum'?") != std::string::npos);
    const auto no_mix = server.request("record", entry_request({{"weights", {"carbon-black=1.1 g"}}}));
    CHECK(no_mix.status == 422);
    // The page has no options to name.
    CHECK(no_mix.json()["hint"].get<std::string>().find("--") == std::string::npos);
    CHECK(status({{"temperature", "22 mm"}}) == 422);
    CHECK(status(Json::object()) == 422);
    CHECK(status({{"file", "elsewhere.toml"}, {"note", "x"}}) == 400);
    CHECK(status({{"library", "/"}, {"note", "x"}}) == 400);
    CHECK(status({{"note", 5}}) == 400);
    CHECK(status({{"weights", {1, 2}}}) == 400);
    CHECK(status("note") == 400);
    Json nameless = entry_request({{"note", "x"}});
    nameless["file"] = "../job.toml";
    CHECK(server.request("record", nameless).status == 400);
    CHECK_FALSE(std::filesystem::exists(server.path("job.record.toml")));
    const std::string outside = server.folder() + "-outside.toml";
    std::filesystem::create_symlink(outside, server.path("job.record.toml"));
    CHECK(status({{"note", "x"}}) == 403);
    CHECK_FALSE(std::filesystem::exists(outside));
}

TEST_CASE("entries added at the same time are all stored", "[serve][records]") {
    const TestServer server("record-many");
    server.put("job.toml", demo());
    std::vector<std::thread> painters;
    for (int i = 0; i < 8; ++i)
        painters.emplace_back([&, i] {
            (void)server.request("record", entry_request({{"note", "painter " + std::to_string(i)}}));
        });
    for (std::thread& painter : painters) painter.join();
    CHECK(server.request("record", log_request()).json()["entries"].size() == 8);
}
