// What the bench answers: the same as the commands, and edits that keep what they do not change.
#include "test_server.h"

#include "fadewright/base/files.h"
#include "fadewright/render/png.h"
#include "fadewright/report/overlay.h"
#include "fadewright/serve/routes.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <thread>

using namespace fadewright;
using test::demo;
using test::Json;
using test::TestServer;

namespace {

Json request_about(const std::string& text) { return {{"file", "job.toml"}, {"text", text}}; }

Json edit_request(const std::string& text, const Json& changes) {
    Json request = request_about(text);
    request["changes"] = changes;
    return request;
}

}  // namespace

TEST_CASE("every wrong plan gets the diagnostics of check --json, byte for byte", "[serve][answers]") {
    const TestServer server("wrong");
    std::size_t compared = 0;
    for (const auto& entry : std::filesystem::directory_iterator(test::source_path("tests/plans/bad"))) {
        if (entry.path().extension() != ".toml") continue;
        const std::string name = entry.path().filename().string();
        const std::string text = read_file_bytes(entry.path().string(), kTextFileLimit_bytes).value();
        if (!Json::accept(Json(text).dump(-1, ' ', false, Json::error_handler_t::replace)) ||
            Json(text).dump(-1, ' ', false, Json::error_handler_t::ignore) !=
                Json(text).dump(-1, ' ', false, Json::error_handler_t::replace))
            continue;  // not UTF-8: it cannot be asked in JSON
        server.put(name, text);
        const auto reply = server.ask("check", {{"file", name}, {"text", text}});
        CAPTURE(name);
        CHECK(reply.status == 200);
        CHECK(reply.body == test::program_output(server.folder(), {"check", "--json", name}));
        ++compared;
    }
    CHECK(compared > 100);
}

TEST_CASE("the picture is the preview command's", "[serve][answers]") {
    const TestServer server("picture");
    server.put("job.toml", demo());
    Json request = request_about(demo());
    request["size"] = 400;
    for (const char* angle : {"", "75 deg"}) {
        request["angle"] = angle;
        const auto reply = server.ask("picture", request);
        REQUIRE(reply.status == 200);
        std::vector<std::string> command{"preview", "job.toml", "-o", "out.png", "--size", "400"};
        if (*angle) command.insert(command.end(), {"--angle", angle});
        (void)test::program_output(server.folder(), command);
        const Result<Picture> from_server = render::read_picture(reply.body, "asked"),
                              made = render::read_picture(server.get("out.png"), "made");
        REQUIRE(from_server);
        CHECK(from_server.value() == made.value());
    }
}

TEST_CASE("a step of the strip shows what lies after its coat, a coat lifted out is not there",
          "[serve][answers]") {
    const TestServer server("strip");
    Json request = request_about(demo());
    const Json steps = server.ask("strip", request).json()["steps"];
    REQUIRE(steps.size() == 3);  // ground, fade, clear
    CHECK(steps[0]["name"] == "ground");
    CHECK(steps[1]["name"] == "dusk");
    CHECK(steps[0]["picture"] != steps[1]["picture"]);
    request["size"] = 200;
    request["after"] = 1;
    const std::string after = server.ask("picture", request).body;
    request["after"] = 2;
    const std::string whole = server.ask("picture", request).body;
    request["without"] = {1};
    CHECK(server.ask("picture", request).body == after);
    CHECK(whole != after);
}

TEST_CASE("changes keep remarks and layout, and all of them are made or none", "[serve][answers]") {
    const TestServer server("changes");
    const Json done =
        server
            .ask("change", edit_request(demo(), {{{"set", "coats.0.fade.extend"}, {"to", "3"}},
                                                 {{"set", "coats.1.cover.film"}, {"to", "\"60 um\""}}}))
            .json();
    const std::string text = done["text"];
    CHECK(text.find("extend = 3\n") != std::string::npos);
    CHECK(text.find("even_coat.film = \"60 um\"") != std::string::npos);
    CHECK(text.find("# The book-bike's front cargo panel again") == 0);
    const auto wrong = server.ask(
        "change",
        edit_request(demo(), {{{"set", "coats.0.fade.extend"}, {"to", "3"}}, {{"take_out", "coats.7"}}}));
    CHECK(wrong.status == 422);
    CHECK(wrong.json()["refused"].get<std::string>().find("coats.7") != std::string::npos);
    const Json more =
        server
            .ask("change", edit_request(demo(), {{{"add", "coats"}, {"like", nullptr}},
                                                 {{"add", "mixes.pale"}, {"like", "mixes.plum"}},
                                                 {{"rename", "mixes.apricot"}, {"to", "dawn"}},
                                                 {{"move", "coats.2"}, {"before", "coats.0"}}}))
            .json();
    const Json model = server.ask("look", request_about(more["text"])).json();
    CHECK(model["good"] == true);
    CHECK(model["coats"].size() == 3);
    CHECK(model["coats"][1]["name"] == "dusk");
    CHECK(model["coats"][1]["fade"]["from"] == "dawn");
}

TEST_CASE("a plan is looked at with its pots, coats and panel", "[serve][answers]") {
    const TestServer server("look");
    const Json model = server.ask("look", request_about(demo())).json();
    CHECK(model["panel"]["width_mm"] == 900);
    CHECK(model["panel"]["outline"][0].size() > 20);  // round corners
    REQUIRE(model["pots"].size() == 3);               // two ends and the fade's middle
    const Json& mid_colour = model["pots"][2];
    CHECK(mid_colour["ratio_at"] == "coats.0.fade.middle_ratio");
    CHECK(mid_colour["extend"] == 2);
    double full = 0;
    for (const Json& layer : mid_colour["cup"]) full += layer["share"].get<double>();
    CHECK(full == Approx(1).margin(1e-9));
    // 1 : 1, extended 2 : 1, reduced 12 % of paint: (1/6)/1.12 of each end in the cup.
    CHECK(mid_colour["cup"][0]["share"].get<double>() == Approx(1.0 / 6 / 1.12).margin(1e-9));
    const Json forecast = server.ask("happen", request_about(demo())).json();
    CHECK(forecast["sentences"].size() > 8);
    CHECK(forecast["figures"]["width_mm"].get<double>() > 100);
    const Json section = server.ask("section", request_about(demo())).json();
    CHECK(section["at_mm"].size() == section["colour"].size());
    CHECK(section["films"].size() == 4);
}

TEST_CASE("the first run offers starting points, each of which is in order", "[serve][answers]") {
    const TestServer server("first");
    const Json folder = server.ask("folder").json();
    CHECK(folder["plans"].empty());
    REQUIRE(folder["starts"].size() >= 4);
    for (const Json& start : folder["starts"]) {
        const std::string file = start["name"].get<std::string>() + ".toml";
        const auto created = server.ask("begin", {{"start", start["name"]}, {"file", file}});
        REQUIRE(created.status == 200);
        CHECK(server.get(file) == created.json()["text"]);
        CHECK(server.ask("look", {{"file", file}, {"text", created.json()["text"]}}).json()["good"] == true);
        CHECK(server.ask("begin", {{"start", start["name"]}, {"file", file}}).status == 409);
    }
    CHECK(server.ask("folder").json()["plans"].size() == folder["starts"].size());
}

TEST_CASE("a plan changed on disk is never written over", "[serve][answers]") {
    const TestServer server("meanwhile");
    server.put("job.toml", demo());
    const Json opened = server.ask("open", {{"file", "job.toml"}}).json();
    Json mine = request_about(demo() + "# mine\n");
    mine["stamp"] = opened["stamp"];
    server.put("job.toml", demo() + "# theirs\n");
    const auto refused = server.ask("save", mine);
    CHECK(refused.status == 409);
    CHECK(refused.json()["changed_on_disk"] == true);
    CHECK(refused.json()["text"] == demo() + "# theirs\n");
    CHECK(server.get("job.toml") == demo() + "# theirs\n");
    mine["as"] = "mine.toml";
    CHECK(server.ask("save", mine).status == 200);
    CHECK(server.get("mine.toml") == demo() + "# mine\n");
    CHECK(server.ask("save", mine).status == 409);
    mine.erase("as");
    mine["stamp"] = refused.json()["stamp"];  // having looked at theirs
    CHECK(server.ask("save", mine).status == 200);
    CHECK(server.get("job.toml") == demo() + "# mine\n");
}

TEST_CASE("the reference is printed from the list of questions", "[serve][answers]") {
    const std::string path = test::source_path("tests/docs/bench.md");
    const std::string now = serve::routes_markdown();
    if (std::getenv("FW_ACCEPT")) REQUIRE(write_file_atomic(path, now));
    CHECK(read_file_bytes(path, kTextFileLimit_bytes).value() == now);
}

TEST_CASE("papers are made by the commands", "[serve][answers]") {
    const TestServer server("papers");
    for (const auto& [document, as, first] :
         std::vector<std::tuple<const char*, const char*, const char*>>{{"sheet", "pdf", "%PDF"},
                                                                        {"sheet", "html", "<!"},
                                                                        {"picture", "png", "\x89PNG"},
                                                                        {"template", "pdf", "%PDF"},
                                                                        {"labels", "pdf", "%PDF"},
                                                                        {"proof", "html", "<!"}}) {
        Json request = request_about(demo());
        request["what"] = document;
        request["as"] = as;
        const auto reply = server.ask("paper", request);
        CAPTURE(document, as);
        CHECK(reply.status == 200);
        CHECK(reply.body.rfind(first, 0) == 0);
    }
    Json wrong = request_about("plan = 1\n");
    wrong["what"] = "sheet";
    wrong["as"] = "pdf";
    CHECK(server.ask("paper", wrong).status == 422);
}

TEST_CASE("a newer picture for the same page ends the one before", "[serve][answers]") {
    const TestServer server("newest");
    std::vector<int> statuses(6);
    std::vector<std::thread> pages;
    for (std::size_t i = 0; i < statuses.size(); ++i)
        pages.emplace_back([&, i] {
            Json request = request_about(demo());
            request["size"] = 2000 + static_cast<int>(i);
            statuses[i] = server.ask("picture", request, "one page").status;
        });
    for (std::thread& page : pages) page.join();
    CHECK(std::count(statuses.begin(), statuses.end(), 200) >= 1);
    CHECK(std::count_if(statuses.begin(), statuses.end(), [](int s) { return s == 200 || s == 409; }) ==
          static_cast<long>(statuses.size()));
}

TEST_CASE("pages hear of plans that change on disk", "[serve][answers]") {
    const TestServer server("events");
    server.put("job.toml", demo());
    std::string heard;
    std::thread listening([&] {
        httplib::Client client = server.client();
        client.Get("/api/events", server.with_key(), [&](const char* data, std::size_t size) {
            heard.append(data, size);
            if (heard.find("hello") != std::string::npos && heard.find("event") == std::string::npos)
                server.put("job.toml", demo() + "# more\n");
            return heard.find("\"job.toml\"") == std::string::npos;
        });
    });
    listening.join();
    CHECK(heard.find("event: changed") != std::string::npos);
    CHECK(heard.find(sha256_hex(demo() + "# more\n")) != std::string::npos);
}

TEST_CASE("the veil of faults says its colours in words, and they are on the picture", "[serve][answers]") {
    const TestServer server("veil");
    Json request = request_about(demo());
    request["size"] = 300;
    const std::string bare = server.ask("picture", request).body;
    request["veil"] = "faults";
    const auto with_overlay = server.ask("picture", request);
    REQUIRE(with_overlay.status == 200);
    const std::string note =
        httplib::detail::decode_url(with_overlay.headers.find("Bench-Note")->second, false);
    INFO(note);
    CHECK(note.find(report::colormap_label(1) + " where something goes wrong") != std::string::npos);
    CHECK(note.find(report::colormap_label(0.5) + " where it may") != std::string::npos);
    CHECK(report::colormap_label(1) != report::colormap_label(0.5));
    // The demo's fade lands dry in places and is thick in others: not one kind of fault alone shows.
    const Picture with = render::read_picture(with_overlay.body, "veiled").value(),
                  without = render::read_picture(bare, "bare").value();
    std::size_t differ = 0;
    for (int y = 0; y < with.height; ++y)
        for (int x = 0; x < with.width; ++x)
            if (std::abs(with.pixel(x, y)[0] - without.pixel(x, y)[0]) > 20) ++differ;
    CHECK(differ > 100);
}
