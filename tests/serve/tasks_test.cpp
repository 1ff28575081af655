// Answers that take their time: they tell how far they are, and end when they are stopped or nobody waits.
#include "raw_client.h"
#include "test_server.h"

#include "fadewright/base/files.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <chrono>
#include <thread>

using namespace fadewright;
using test::Json;
using test::TestServer;

namespace {

using Clock = std::chrono::steady_clock;

std::string plan(const std::string& name) {
    return read_file_bytes(test::source_path("presets/plans/" + name), kTextFileLimit_bytes).value();
}

// A client's page of a curved piece: many seconds of work.
Json slow_export(const std::string& task) {
    return {{"file", "job.toml"},
            {"text", plan("guitar-burst.toml")},
            {"what", "proof"},
            {"as", "pdf"},
            {"errand", task}};
}

// Listens for the progress of one errand until it is let go.
class Progress {
public:
    Progress(const TestServer& server, const std::string& task)
        : listening_([this, &server, name = "\"errand\":\"" + task + "\""] {
              httplib::Client client = server.client();
              client.Get("/api/events", server.with_key(), [&](const char* data, std::size_t size) {
                  heard_.append(data, size);
                  ready_ = true;
                  if (heard_.find(name) != std::string::npos) begun_ = true;
                  return !over_ && !begun_;
              });
          }) {
        wait(ready_);
    }
    ~Progress() {
        over_ = true;
        listening_.join();
    }
    void wait_for_it() { wait(begun_); }
    [[nodiscard]] const std::string& heard() const { return heard_; }

private:
    static void wait(const std::atomic<bool>& flag) {
        const auto end = Clock::now() + std::chrono::seconds(60);
        while (!flag && Clock::now() < end) std::this_thread::sleep_for(std::chrono::milliseconds(10));
        REQUIRE(flag);
    }

    std::string heard_;
    std::atomic<bool> ready_{false}, begun_{false}, over_{false};
    std::thread listening_;
};

}  // namespace

TEST_CASE("a long answer tells how far it is and ends when it is stopped", "[serve][errands]") {
    const TestServer server("stopped");
    Progress progress(server, "one");
    TestServer::Reply reply;
    std::thread asking([&] { reply = server.ask("paper", slow_export("one")); });
    progress.wait_for_it();
    const Json stopped = server.ask("stop", {{"errand", "one"}}).json();
    asking.join();
    CHECK(stopped["stopped"] == 1);
    CHECK(reply.status == 409);
    CHECK(reply.json()["superseded"] == true);
    CHECK(progress.heard().find("event: progress") != std::string::npos);
    CHECK(server.ask("stop", {{"errand", "one"}}).json()["stopped"] == 0);
    CHECK(server.ask("stop", Json::object()).status == 400);
}

TEST_CASE("what nobody waits for any more is left off", "[serve][errands]") {
    const TestServer server("left");
    Progress progress(server, "two");
    {
        const test::RawClient client(server.port());
        client.send(server.as_request("paper", slow_export("two")));
        progress.wait_for_it();
    }  // hangs up
    std::this_thread::sleep_for(std::chrono::seconds(3));
    CHECK(server.ask("stop", {{"errand", "two"}}).json()["stopped"] == 0);
}

TEST_CASE("a search that is stopped answers with the best so far", "[serve][errands]") {
    const TestServer server("search");
    Progress progress(server, "three");
    TestServer::Reply reply;
    const std::string text = plan("dusk-fade-short.toml");
    std::thread asking([&] {
        reply = server.ask("tune", {{"file", "job.toml"}, {"text", text}, {"errand", "three"}});
    });
    progress.wait_for_it();
    (void)server.ask("stop", {{"errand", "three"}});
    asking.join();
    REQUIRE(reply.status == 200);
    const Json found = reply.json();
    CHECK(found["stopped_early"] == true);
    CHECK(found["goal_after"].get<double>() <= found["goal_before"].get<double>());
    const auto changed =
        server.ask("change", {{"file", "job.toml"}, {"text", text}, {"changes", found["edits"]}});
    CHECK(changed.status == 200);
}

TEST_CASE("the edits of a way make the plan that was judged, and keep its remarks", "[serve][errands]") {
    const TestServer server("ways");
    const std::string text = plan("dusk-fade-short.toml");
    const Json methods = server.ask("ways", {{"file", "job.toml"}, {"text", text}}).json();
    REQUIRE(methods["ways"].size() > 6);
    CHECK(methods["ways"][0]["edits"].empty());
    for (const Json& method : methods["ways"]) {
        CAPTURE(method["name"]);
        CHECK(method["brief"].size() >= 3);
        const Json changed =
            server.ask("change", {{"file", "job.toml"}, {"text", text}, {"changes", method["edits"]}}).json();
        const std::string after = changed["text"];
        CHECK(after.find("# The book-bike's front cargo panel again") == 0);
        CHECK((after == text) == method["edits"].empty());
    }
    const Json best = methods["ways"][1];
    const Json changed =
        server.ask("change", {{"file", "job.toml"}, {"text", text}, {"changes", best["edits"]}}).json();
    const Json again = server.ask("ways", {{"file", "job.toml"}, {"text", changed["text"]}}).json();
    CHECK(again["ways"][0]["name"] == "planned: " + best["name"].get<std::string>());
    CHECK(again["ways"][0]["points"] == best["points"]);
}
