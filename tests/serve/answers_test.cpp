// What the bench answers: the same as the commands, and edits that keep what they do not change.
#include "bench_server.h"

#include "fadewright/base/files.h"
#include "fadewright/render/png.h"
#include "fadewright/report/overlay.h"
#include "fadewright/serve/questions.h"
#include "published.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <thread>

using namespace fadewright;
using test::BenchServer;
using test::demo;
using test::Json;

namespace {

Json about(const std::string& text) { return {{"file", "job.toml"}, {"text", text}}; }

Json change(const std::string& text, const Json& changes) {
    Json question = about(text);
    question["changes"] = changes;
    return question;
}

}  // namespace

TEST_CASE("every wrong plan gets the diagnostics of check --json, byte for byte", "[serve][answers]") {
    const BenchServer bench("wrong");
    std::size_t compared = 0;
    for (const auto& entry : std::filesystem::directory_iterator(test::source_path("tests/plans/bad"))) {
        if (entry.path().extension() != ".toml") continue;
        const std::string name = entry.path().filename().string();
        const std::string text = read_whole(entry.path().string(), kTextFileLimit_bytes).value();
        if (!Json::accept(Json(text).dump(-1, ' ', false, Json::error_handler_t::replace)) ||
            Json(text).dump(-1, ' ', false, Json::error_handler_t::ignore) !=
                Json(text).dump(-1, ' ', false, Json::error_handler_t::replace))
            continue;  // not UTF-8: it cannot be asked in JSON
        bench.put(name, text);
        const auto reply = bench.ask("check", {{"file", name}, {"text", text}});
        CAPTURE(name);
        CHECK(reply.status == 200);
        CHECK(reply.body == test::said_in(bench.folder(), {"check", "--json", name}));
        ++compared;
    }
    CHECK(compared > 100);
}

TEST_CASE("the picture is the preview command's", "[serve][answers]") {
    const BenchServer bench("picture");
    bench.put("job.toml", demo());
    Json question = about(demo());
    question["size"] = 400;
    for (const char* angle : {"", "75 deg"}) {
        question["angle"] = angle;
        const auto reply = bench.ask("picture", question);
        REQUIRE(reply.status == 200);
        std::vector<std::string> command{"preview", "job.toml", "-o", "out.png", "--size", "400"};
        if (*angle) command.insert(command.end(), {"--angle", angle});
        (void)test::said_in(bench.folder(), command);
        const Result<Picture> asked = render::read_picture(reply.body, "asked"),
                              made = render::read_picture(bench.get("out.png"), "made");
        REQUIRE(asked);
        CHECK(asked.value() == made.value());
    }
}

TEST_CASE("a step of the strip shows what lies after its coat, a coat lifted out is not there",
          "[serve][answers]") {
    const BenchServer bench("strip");
    Json question = about(demo());
    const Json steps = bench.ask("strip", question).json()["steps"];
    REQUIRE(steps.size() == 3);  // ground, fade, clear
    CHECK(steps[0]["name"] == "ground");
    CHECK(steps[1]["name"] == "dusk");
    CHECK(steps[0]["picture"] != steps[1]["picture"]);
    question["size"] = 200;
    question["after"] = 1;
    const std::string after = bench.ask("picture", question).body;
    question["after"] = 2;
    const std::string whole = bench.ask("picture", question).body;
    question["without"] = {1};
    CHECK(bench.ask("picture", question).body == after);
    CHECK(whole != after);
}

TEST_CASE("changes keep remarks and layout, and all of them are made or none", "[serve][answers]") {
    const BenchServer bench("changes");
    const Json done =
        bench
            .ask("change", change(demo(), {{{"set", "coats.0.fade.extend"}, {"to", "3"}},
                                           {{"set", "coats.1.cover.film"}, {"to", "\"60 um\""}}}))
            .json();
    const std::string text = done["text"];
    CHECK(text.find("extend = 3\n") != std::string::npos);
    CHECK(text.find("cover.film = \"60 um\"") != std::string::npos);
    CHECK(text.find("# The book-bike's front cargo panel again") == 0);
    const auto wrong = bench.ask(
        "change", change(demo(), {{{"set", "coats.0.fade.extend"}, {"to", "3"}}, {{"take_out", "coats.7"}}}));
    CHECK(wrong.status == 422);
    CHECK(wrong.json()["refused"].get<std::string>().find("coats.7") != std::string::npos);
    const Json more = bench
                          .ask("change", change(demo(), {{{"add", "coats"}, {"like", nullptr}},
                                                         {{"add", "mixes.pale"}, {"like", "mixes.plum"}},
                                                         {{"rename", "mixes.apricot"}, {"to", "dawn"}},
                                                         {{"move", "coats.2"}, {"before", "coats.0"}}}))
                          .json();
    const Json look = bench.ask("look", about(more["text"])).json();
    CHECK(look["good"] == true);
    CHECK(look["coats"].size() == 3);
    CHECK(look["coats"][1]["name"] == "dusk");
    CHECK(look["coats"][1]["fade"]["from"] == "dawn");
}

TEST_CASE("a plan is looked at with its pots, coats and panel", "[serve][answers]") {
    const BenchServer bench("look");
    const Json look = bench.ask("look", about(demo())).json();
    CHECK(look["panel"]["width_mm"] == 900);
    CHECK(look["panel"]["outline"][0].size() > 20);  // round corners
    REQUIRE(look["pots"].size() == 3);               // two ends and the fade's middle
    const Json& middle = look["pots"][2];
    CHECK(middle["ratio_at"] == "coats.0.fade.middle_ratio");
    CHECK(middle["extend"] == 2);
    double full = 0;
    for (const Json& layer : middle["cup"]) full += layer["share"].get<double>();
    CHECK(full == Approx(1).margin(1e-9));
    // 1 : 1, extended 2 : 1, reduced 12 % of paint: (1/6)/1.12 of each end in the cup.
    CHECK(middle["cup"][0]["share"].get<double>() == Approx(1.0 / 6 / 1.12).margin(1e-9));
    const Json happen = bench.ask("happen", about(demo())).json();
    CHECK(happen["sentences"].size() > 8);
    CHECK(happen["figures"]["width_mm"].get<double>() > 100);
    const Json section = bench.ask("section", about(demo())).json();
    CHECK(section["at_mm"].size() == section["colour"].size());
    CHECK(section["films"].size() == 4);
}

TEST_CASE("the first run offers starting points, each of which is in order", "[serve][answers]") {
    const BenchServer bench("first");
    const Json folder = bench.ask("folder").json();
    CHECK(folder["plans"].empty());
    REQUIRE(folder["starts"].size() >= 4);
    for (const Json& start : folder["starts"]) {
        const std::string file = start["name"].get<std::string>() + ".toml";
        const auto begun = bench.ask("begin", {{"start", start["name"]}, {"file", file}});
        REQUIRE(begun.status == 200);
        CHECK(bench.get(file) == begun.json()["text"]);
        CHECK(bench.ask("look", {{"file", file}, {"text", begun.json()["text"]}}).json()["good"] == true);
        CHECK(bench.ask("begin", {{"start", start["name"]}, {"file", file}}).status == 409);
    }
    CHECK(bench.ask("folder").json()["plans"].size() == folder["starts"].size());
}

TEST_CASE("a plan changed on disk is never written over", "[serve][answers]") {
    const BenchServer bench("meanwhile");
    bench.put("job.toml", demo());
    const Json opened = bench.ask("open", {{"file", "job.toml"}}).json();
    Json mine = about(demo() + "# mine\n");
    mine["stamp"] = opened["stamp"];
    bench.put("job.toml", demo() + "# theirs\n");
    const auto refused = bench.ask("save", mine);
    CHECK(refused.status == 409);
    CHECK(refused.json()["changed_on_disk"] == true);
    CHECK(refused.json()["text"] == demo() + "# theirs\n");
    CHECK(bench.get("job.toml") == demo() + "# theirs\n");
    mine["as"] = "mine.toml";
    CHECK(bench.ask("save", mine).status == 200);
    CHECK(bench.get("mine.toml") == demo() + "# mine\n");
    CHECK(bench.ask("save", mine).status == 409);
    mine.erase("as");
    mine["stamp"] = refused.json()["stamp"];  // having looked at theirs
    CHECK(bench.ask("save", mine).status == 200);
    CHECK(bench.get("job.toml") == demo() + "# mine\n");
}

TEST_CASE("the reference is printed from the list of questions", "[serve][answers]") {
    const std::string path = test::source_path("tests/docs/bench.md");
    const std::string now = serve::questions_markdown();
    if (std::getenv("FW_ACCEPT")) REQUIRE(write_whole(path, now));
    CHECK(read_whole(path, kTextFileLimit_bytes).value() == now);
}

TEST_CASE("papers are made by the commands", "[serve][answers]") {
    const BenchServer bench("papers");
    for (const auto& [what, as, first] :
         std::vector<std::tuple<const char*, const char*, const char*>>{{"sheet", "pdf", "%PDF"},
                                                                        {"sheet", "html", "<!"},
                                                                        {"picture", "png", "\x89PNG"},
                                                                        {"template", "pdf", "%PDF"},
                                                                        {"labels", "pdf", "%PDF"},
                                                                        {"proof", "html", "<!"}}) {
        Json question = about(demo());
        question["what"] = what;
        question["as"] = as;
        const auto reply = bench.ask("paper", question);
        CAPTURE(what, as);
        CHECK(reply.status == 200);
        CHECK(reply.body.rfind(first, 0) == 0);
    }
    Json wrong = about("plan = 1\n");
    wrong["what"] = "sheet";
    wrong["as"] = "pdf";
    CHECK(bench.ask("paper", wrong).status == 422);
}

TEST_CASE("a newer picture for the same page ends the one before", "[serve][answers]") {
    const BenchServer bench("newest");
    std::vector<int> statuses(6);
    std::vector<std::thread> pages;
    for (std::size_t i = 0; i < statuses.size(); ++i)
        pages.emplace_back([&, i] {
            Json question = about(demo());
            question["size"] = 2000 + static_cast<int>(i);
            statuses[i] = bench.ask("picture", question, "one page").status;
        });
    for (std::thread& page : pages) page.join();
    CHECK(std::count(statuses.begin(), statuses.end(), 200) >= 1);
    CHECK(std::count_if(statuses.begin(), statuses.end(), [](int s) { return s == 200 || s == 409; }) ==
          static_cast<long>(statuses.size()));
}

TEST_CASE("pages hear of plans that change on disk", "[serve][answers]") {
    const BenchServer bench("events");
    bench.put("job.toml", demo());
    std::string heard;
    std::thread listening([&] {
        httplib::Client client = bench.client();
        client.Get("/api/events", bench.with_key(), [&](const char* data, std::size_t size) {
            heard.append(data, size);
            if (heard.find("hello") != std::string::npos && heard.find("event") == std::string::npos)
                bench.put("job.toml", demo() + "# more\n");
            return heard.find("\"job.toml\"") == std::string::npos;
        });
    });
    listening.join();
    CHECK(heard.find("event: changed") != std::string::npos);
    CHECK(heard.find(sha256_hex(demo() + "# more\n")) != std::string::npos);
}

TEST_CASE("the veil of faults says its colours in words, and they are on the picture", "[serve][answers]") {
    const BenchServer bench("veil");
    Json question = about(demo());
    question["size"] = 300;
    const std::string bare = bench.ask("picture", question).body;
    question["veil"] = "faults";
    const auto veiled = bench.ask("picture", question);
    REQUIRE(veiled.status == 200);
    const std::string note = httplib::detail::decode_url(veiled.headers.find("Bench-Note")->second, false);
    INFO(note);
    CHECK(note.find(report::ramp_words(1) + " where something goes wrong") != std::string::npos);
    CHECK(note.find(report::ramp_words(0.5) + " where it may") != std::string::npos);
    CHECK(report::ramp_words(1) != report::ramp_words(0.5));
    // The demo's fade lands dry in places and is thick in others: not one kind of fault alone shows.
    const Picture with = render::read_picture(veiled.body, "veiled").value(),
                  without = render::read_picture(bare, "bare").value();
    std::size_t differ = 0;
    for (int y = 0; y < with.height; ++y)
        for (int x = 0; x < with.width; ++x)
            if (std::abs(with.pixel(x, y)[0] - without.pixel(x, y)[0]) > 20) ++differ;
    CHECK(differ > 100);
}
