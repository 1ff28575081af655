// Tasks: they report their progress, and end when they are cancelled or the client disconnects.
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

// A proof of a curved piece: many seconds of work.
Json slow_export(const std::string& task) {
    return {{"file", "job.toml"},
            {"text", plan("guitar-burst.toml")},
            {"document", "proof"},
            {"format", "pdf"},
            {"task", task}};
}

// Listens for the progress events of one task.
class Progress {
public:
    Progress(const TestServer& server, const std::string& task)
        : listener_([this, &server, member = "\"task\":\"" + task + "\""] {
              httplib::Client client = server.client();
              client.Get("/api/events", server.key_headers(), [&](const char* data, std::size_t size) {
                  received_.append(data, size);
                  connected_ = true;
                  if (received_.find(member) != std::string::npos) started_ = true;
                  return !done_ && !started_;
              });
          }) {
        wait(connected_);
    }
    ~Progress() {
        done_ = true;
        listener_.join();
    }
    void wait_until_started() { wait(started_); }
    [[nodiscard]] const std::string& received() const { return received_; }

private:
    static void wait(const std::atomic<bool>& flag) {
        const auto end = Clock::now() + std::chrono::seconds(60);
        while (!flag && Clock::now() < end) std::this_thread::sleep_for(std::chrono::milliseconds(10));
        REQUIRE(flag);
    }

    std::string received_;
    std::atomic<bool> connected_{false}, started_{false}, done_{false};
    std::thread listener_;
};

}  // namespace

TEST_CASE("a task reports its progress and ends when it is cancelled", "[serve][tasks]") {
    const TestServer server("cancelled");
    Progress progress(server, "one");
    TestServer::Reply reply;
    std::thread client([&] { reply = server.request("export", slow_export("one")); });
    progress.wait_until_started();
    const Json cancelled = server.request("cancel", {{"task", "one"}}).json();
    client.join();
    CHECK(cancelled["cancelled"] == 1);
    CHECK(reply.status == 409);
    CHECK(reply.json()["superseded"] == true);
    CHECK(progress.received().find("event: progress") != std::string::npos);
    CHECK(server.request("cancel", {{"task", "one"}}).json()["cancelled"] == 0);
    CHECK(server.request("cancel", Json::object()).status == 400);
}

TEST_CASE("a task ends when its client disconnects", "[serve][tasks]") {
    const TestServer server("disconnected");
    Progress progress(server, "two");
    {
        const test::RawClient client(server.port());
        client.send(server.request_bytes("export", slow_export("two")));
        progress.wait_until_started();
    }  // disconnects
    std::this_thread::sleep_for(std::chrono::seconds(3));
    CHECK(server.request("cancel", {{"task", "two"}}).json()["cancelled"] == 0);
}

TEST_CASE("a cancelled search answers with the best found so far", "[serve][tasks]") {
    const TestServer server("search");
    Progress progress(server, "three");
    TestServer::Reply reply;
    const std::string text = plan("dusk-fade-short.toml");
    std::thread client([&] {
        reply = server.request("tune", {{"file", "job.toml"}, {"text", text}, {"task", "three"}});
    });
    progress.wait_until_started();
    (void)server.request("cancel", {{"task", "three"}});
    client.join();
    REQUIRE(reply.status == 200);
    const Json found = reply.json();
    CHECK(found["stopped_early"] == true);
    CHECK(found["score_after"].get<double>() <= found["score_before"].get<double>());
    const auto changed =
        server.request("edit", {{"file", "job.toml"}, {"text", text}, {"edits", found["edits"]}});
    CHECK(changed.status == 200);
}

TEST_CASE("the edits of a method make the plan that was assessed, and keep its comments", "[serve][tasks]") {
    const TestServer server("methods");
    const std::string text = plan("dusk-fade-short.toml");
    const Json methods = server.request("methods", {{"file", "job.toml"}, {"text", text}}).json();
    REQUIRE(methods["methods"].size() > 6);
    CHECK(methods["methods"][0]["edits"].empty());
    for (const Json& method : methods["methods"]) {
        CAPTURE(method["name"]);
        CHECK(method["summary"].size() >= 3);
        const Json changed =
            server.request("edit", {{"file", "job.toml"}, {"text", text}, {"edits", method["edits"]}}).json();
        const std::string after = changed["text"];
        CHECK(after.find("# The book-bike's front cargo panel again") == 0);
        CHECK((after == text) == method["edits"].empty());
    }
    const Json best = methods["methods"][1];
    const Json changed =
        server.request("edit", {{"file", "job.toml"}, {"text", text}, {"edits", best["edits"]}}).json();
    const Json again = server.request("methods", {{"file", "job.toml"}, {"text", changed["text"]}}).json();
    CHECK(again["methods"][0]["name"] == "your plan: " + best["name"].get<std::string>());
    CHECK(again["methods"][0]["score"] == best["score"]);
}
