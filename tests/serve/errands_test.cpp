// Answers that take their time: they tell how far they are, and end when they are stopped or nobody waits.
#include "bench_server.h"
#include "raw_client.h"

#include "fadewright/base/files.h"
#include "published.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <chrono>
#include <thread>

using namespace fadewright;
using test::BenchServer;
using test::Json;

namespace {

using Clock = std::chrono::steady_clock;

std::string plan(const std::string& name) {
    return read_whole(test::source_path("presets/plans/" + name), kTextFileLimit_bytes).value();
}

// A client's page of a curved piece: many seconds of work.
Json slow_paper(const std::string& errand) {
    return {{"file", "job.toml"},
            {"text", plan("guitar-burst.toml")},
            {"what", "proof"},
            {"as", "pdf"},
            {"errand", errand}};
}

// Listens for the progress of one errand until it is let go.
class Progress {
public:
    Progress(const BenchServer& bench, const std::string& errand)
        : listening_([this, &bench, name = "\"errand\":\"" + errand + "\""] {
              httplib::Client client = bench.client();
              client.Get("/api/events", bench.with_key(), [&](const char* data, std::size_t size) {
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
    static void wait(const std::atomic<bool>& what) {
        const auto end = Clock::now() + std::chrono::seconds(60);
        while (!what && Clock::now() < end) std::this_thread::sleep_for(std::chrono::milliseconds(10));
        REQUIRE(what);
    }

    std::string heard_;
    std::atomic<bool> ready_{false}, begun_{false}, over_{false};
    std::thread listening_;
};

}  // namespace

TEST_CASE("a long answer tells how far it is and ends when it is stopped", "[serve][errands]") {
    const BenchServer bench("stopped");
    Progress progress(bench, "one");
    BenchServer::Reply reply;
    std::thread asking([&] { reply = bench.ask("paper", slow_paper("one")); });
    progress.wait_for_it();
    const Json stopped = bench.ask("stop", {{"errand", "one"}}).json();
    asking.join();
    CHECK(stopped["stopped"] == 1);
    CHECK(reply.status == 409);
    CHECK(reply.json()["superseded"] == true);
    CHECK(progress.heard().find("event: progress") != std::string::npos);
    CHECK(bench.ask("stop", {{"errand", "one"}}).json()["stopped"] == 0);
    CHECK(bench.ask("stop", Json::object()).status == 400);
}

TEST_CASE("what nobody waits for any more is left off", "[serve][errands]") {
    const BenchServer bench("left");
    Progress progress(bench, "two");
    {
        const test::RawClient client(bench.port());
        client.send(bench.as_request("paper", slow_paper("two")));
        progress.wait_for_it();
    }  // hangs up
    std::this_thread::sleep_for(std::chrono::seconds(3));
    CHECK(bench.ask("stop", {{"errand", "two"}}).json()["stopped"] == 0);
}

TEST_CASE("a search that is stopped answers with the best so far", "[serve][errands]") {
    const BenchServer bench("search");
    Progress progress(bench, "three");
    BenchServer::Reply reply;
    const std::string text = plan("dusk-fade-short.toml");
    std::thread asking([&] {
        reply = bench.ask("tune", {{"file", "job.toml"}, {"text", text}, {"errand", "three"}});
    });
    progress.wait_for_it();
    (void)bench.ask("stop", {{"errand", "three"}});
    asking.join();
    REQUIRE(reply.status == 200);
    const Json found = reply.json();
    CHECK(found["stopped_early"] == true);
    CHECK(found["goal_after"].get<double>() <= found["goal_before"].get<double>());
    const auto changed =
        bench.ask("change", {{"file", "job.toml"}, {"text", text}, {"changes", found["edits"]}});
    CHECK(changed.status == 200);
}

TEST_CASE("the edits of a way make the plan that was judged, and keep its remarks", "[serve][errands]") {
    const BenchServer bench("ways");
    const std::string text = plan("dusk-fade-short.toml");
    const Json ways = bench.ask("ways", {{"file", "job.toml"}, {"text", text}}).json();
    REQUIRE(ways["ways"].size() > 6);
    CHECK(ways["ways"][0]["edits"].empty());
    for (const Json& way : ways["ways"]) {
        CAPTURE(way["name"]);
        CHECK(way["brief"].size() >= 3);
        const Json changed =
            bench.ask("change", {{"file", "job.toml"}, {"text", text}, {"changes", way["edits"]}}).json();
        const std::string after = changed["text"];
        CHECK(after.find("# The book-bike's front cargo panel again") == 0);
        CHECK((after == text) == way["edits"].empty());
    }
    const Json best = ways["ways"][1];
    const Json changed =
        bench.ask("change", {{"file", "job.toml"}, {"text", text}, {"changes", best["edits"]}}).json();
    const Json again = bench.ask("ways", {{"file", "job.toml"}, {"text", changed["text"]}}).json();
    CHECK(again["ways"][0]["name"] == "planned: " + best["name"].get<std::string>());
    CHECK(again["ways"][0]["points"] == best["points"]);
}
