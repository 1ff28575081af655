// The answers of the server are those of the commands, and edits leave everything else unchanged.
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

Json plan_request(const std::string& text) { return {{"file", "job.toml"}, {"text", text}}; }

Json edit_request(const std::string& text, const Json& edits) {
    Json request = plan_request(text);
    request["edits"] = edits;
    return request;
}

}  // namespace

TEST_CASE("every invalid plan gets the diagnostics of check --json, byte for byte", "[serve][answers]") {
    const TestServer server("invalid");
    std::size_t compared = 0;
    for (const auto& entry : std::filesystem::directory_iterator(test::source_path("tests/plans/bad"))) {
        if (entry.path().extension() != ".toml") continue;
        const std::string name = entry.path().filename().string();
        const std::string text = read_file_bytes(entry.path().string(), kTextFileLimit_bytes).value();
        if (!Json::accept(Json(text).dump(-1, ' ', false, Json::error_handler_t::replace)) ||
            Json(text).dump(-1, ' ', false, Json::error_handler_t::ignore) !=
                Json(text).dump(-1, ' ', false, Json::error_handler_t::replace))
            continue;  // not UTF-8: cannot be sent as JSON
        server.put(name, text);
        const auto reply = server.request("check", {{"file", name}, {"text", text}});
        CAPTURE(name);
        CHECK(reply.status == 200);
        CHECK(reply.body == test::program_output(server.folder(), {"check", "--json", name}));
        ++compared;
    }
    CHECK(compared > 100);
}

TEST_CASE("the picture is that of the preview command", "[serve][answers]") {
    const TestServer server("picture");
    server.put("job.toml", demo());
    Json request = plan_request(demo());
    request["size"] = 400;
    for (const char* angle : {"", "75 deg"}) {
        request["angle"] = angle;
        const auto reply = server.request("picture", request);
        REQUIRE(reply.status == 200);
        std::vector<std::string> command{"preview", "job.toml", "-o", "out.png", "--size", "400"};
        if (*angle) command.insert(command.end(), {"--angle", angle});
        (void)test::program_output(server.folder(), command);
        const Result<Picture> from_server = render::read_picture(reply.body, "served"),
                              made = render::read_picture(server.get("out.png"), "made");
        REQUIRE(from_server);
        CHECK(from_server.value() == made.value());
    }
}

TEST_CASE("a thumbnail shows the panel after its coat, and a hidden coat is not in the picture",
          "[serve][answers]") {
    const TestServer server("thumbnails");
    Json request = plan_request(demo());
    const Json thumbnails = server.request("thumbnails", request).json()["thumbnails"];
    REQUIRE(thumbnails.size() == 3);  // ground, fade, clear
    CHECK(thumbnails[0]["name"] == "ground");
    CHECK(thumbnails[1]["name"] == "dusk");
    CHECK(thumbnails[0]["picture"] != thumbnails[1]["picture"]);
    request["size"] = 200;
    request["after"] = 1;
    const std::string after = server.request("picture", request).body;
    request["after"] = 2;
    const std::string all_coats = server.request("picture", request).body;
    request["hidden"] = {1};
    CHECK(server.request("picture", request).body == after);
    CHECK(all_coats != after);
}

TEST_CASE("edits keep comments and layout, and are made all or none", "[serve][answers]") {
    const TestServer server("edits");
    const Json done =
        server
            .request("edit", edit_request(demo(), {{{"set", "coats.0.fade.extend"}, {"to", "3"}},
                                                   {{"set", "coats.1.even_coat.film"}, {"to", "\"60 um\""}}}))
            .json();
    const std::string text = done["text"];
    CHECK(text.find("extend = 3\n") != std::string::npos);
    CHECK(text.find("even_coat.film = \"60 um\"") != std::string::npos);
    CHECK(text.find("# The book-bike's front cargo panel again") == 0);
    const auto rejected = server.request(
        "edit",
        edit_request(demo(), {{{"set", "coats.0.fade.extend"}, {"to", "3"}}, {{"delete", "coats.7"}}}));
    CHECK(rejected.status == 422);
    CHECK(rejected.json()["error"].get<std::string>().find("coats.7") != std::string::npos);
    const Json more =
        server
            .request("edit", edit_request(demo(), {{{"add", "coats"}, {"copy_of", nullptr}},
                                                   {{"add", "mixes.pale"}, {"copy_of", "mixes.plum"}},
                                                   {{"rename", "mixes.apricot"}, {"to", "dawn"}},
                                                   {{"move", "coats.2"}, {"before", "coats.0"}}}))
            .json();
    const Json model = server.request("model", plan_request(more["text"])).json();
    CHECK(model["valid"] == true);
    CHECK(model["coats"].size() == 3);
    CHECK(model["coats"][1]["name"] == "dusk");
    CHECK(model["coats"][1]["fade"]["from"] == "dawn");
}

TEST_CASE("the model of a plan has its mixes, coats and panel", "[serve][answers]") {
    const TestServer server("model");
    const Json model = server.request("model", plan_request(demo())).json();
    CHECK(model["panel"]["width_mm"] == 900);
    CHECK(model["panel"]["outline"][0].size() > 20);  // round corners
    REQUIRE(model["mixes"].size() == 3);              // both ends and the mid colour
    const Json& mid_colour = model["mixes"][2];
    CHECK(mid_colour["ratio_key"] == "coats.0.fade.mid_ratio");
    CHECK(mid_colour["extend"] == 2);
    double total = 0;
    for (const Json& layer : mid_colour["layers"]) total += layer["share"].get<double>();
    CHECK(total == Approx(1).margin(1e-9));
    // 1 : 1, extended 2 : 1, reduced 12 % of paint: (1/6)/1.12 of each end in the cup.
    CHECK(mid_colour["layers"][0]["share"].get<double>() == Approx(1.0 / 6 / 1.12).margin(1e-9));
    const Json forecast = server.request("forecast", plan_request(demo())).json();
    CHECK(forecast["sentences"].size() > 8);
    CHECK(forecast["figures"]["width_mm"].get<double>() > 100);
    const Json section = server.request("section", plan_request(demo())).json();
    CHECK(section["at_mm"].size() == section["colours"].size());
    CHECK(section["films"].size() == 4);
    CHECK_THAT(section["width"].get<std::string>(), Catch::Matchers::StartsWith("The fade is "));
}

TEST_CASE("an empty folder offers starter plans, and each is valid", "[serve][answers]") {
    const TestServer server("first");
    const Json folder = server.request("folder").json();
    CHECK(folder["plans"].empty());
    REQUIRE(folder["starters"].size() >= 4);
    for (const Json& starter : folder["starters"]) {
        const std::string file = starter["name"].get<std::string>() + ".toml";
        const auto created = server.request("create", {{"starter", starter["name"]}, {"file", file}});
        REQUIRE(created.status == 200);
        CHECK(server.get(file) == created.json()["text"]);
        const Json model = server.request("model", {{"file", file}, {"text", created.json()["text"]}}).json();
        CHECK(model["valid"] == true);
        CHECK(server.request("create", {{"starter", starter["name"]}, {"file", file}}).status == 409);
    }
    CHECK(server.request("folder").json()["plans"].size() == folder["starters"].size());
}

TEST_CASE("a plan changed on disk is never overwritten", "[serve][answers]") {
    const TestServer server("conflict");
    server.put("job.toml", demo());
    const Json opened = server.request("open", {{"file", "job.toml"}}).json();
    Json mine = plan_request(demo() + "# mine\n");
    mine["sha256"] = opened["sha256"];
    server.put("job.toml", demo() + "# theirs\n");
    const auto conflict = server.request("save", mine);
    CHECK(conflict.status == 409);
    CHECK(conflict.json()["changed_on_disk"] == true);
    CHECK(conflict.json()["text"] == demo() + "# theirs\n");
    CHECK(server.get("job.toml") == demo() + "# theirs\n");
    mine["save_as"] = "mine.toml";
    CHECK(server.request("save", mine).status == 200);
    CHECK(server.get("mine.toml") == demo() + "# mine\n");
    CHECK(server.request("save", mine).status == 409);
    mine.erase("save_as");
    mine["sha256"] = conflict.json()["sha256"];  // the page has seen theirs
    CHECK(server.request("save", mine).status == 200);
    CHECK(server.get("job.toml") == demo() + "# mine\n");
}

TEST_CASE("the reference is printed from the list of routes", "[serve][answers]") {
    const std::string path = test::source_path("tests/docs/api.md");
    const std::string now = serve::routes_markdown();
    if (std::getenv("FW_ACCEPT")) REQUIRE(write_file_atomic(path, now));
    CHECK(read_file_bytes(path, kTextFileLimit_bytes).value() == now);
}

TEST_CASE("exports are made by the commands", "[serve][answers]") {
    const TestServer server("exports");
    for (const auto& [document, format, signature] :
         std::vector<std::tuple<const char*, const char*, const char*>>{{"sheet", "pdf", "%PDF"},
                                                                        {"sheet", "html", "<!"},
                                                                        {"picture", "png", "\x89PNG"},
                                                                        {"template", "pdf", "%PDF"},
                                                                        {"labels", "pdf", "%PDF"},
                                                                        {"proof", "html", "<!"}}) {
        Json request = plan_request(demo());
        request["document"] = document;
        request["format"] = format;
        const auto reply = server.request("export", request);
        CAPTURE(document, format);
        CHECK(reply.status == 200);
        CHECK(reply.body.rfind(signature, 0) == 0);
    }
    Json invalid = plan_request("plan = 1\n");
    invalid["document"] = "sheet";
    invalid["format"] = "pdf";
    CHECK(server.request("export", invalid).status == 422);
}

TEST_CASE("a newer picture request of the same page cancels the one before", "[serve][answers]") {
    const TestServer server("newest");
    std::vector<int> statuses(6);
    std::vector<std::thread> pages;
    for (std::size_t i = 0; i < statuses.size(); ++i)
        pages.emplace_back([&, i] {
            Json request = plan_request(demo());
            request["size"] = 2000 + static_cast<int>(i);
            statuses[i] = server.request("picture", request, "one page").status;
        });
    for (std::thread& page : pages) page.join();
    CHECK(std::count(statuses.begin(), statuses.end(), 200) >= 1);
    CHECK(std::count_if(statuses.begin(), statuses.end(), [](int s) { return s == 200 || s == 409; }) ==
          static_cast<long>(statuses.size()));
}

TEST_CASE("plans that change on disk are published as events", "[serve][answers]") {
    const TestServer server("events");
    server.put("job.toml", demo());
    std::string received;
    std::thread listener([&] {
        httplib::Client client = server.client();
        client.Get("/api/events", server.key_headers(), [&](const char* data, std::size_t size) {
            received.append(data, size);
            if (received.find("connected") != std::string::npos &&
                received.find("event") == std::string::npos)
                server.put("job.toml", demo() + "# more\n");
            return received.find("\"job.toml\"") == std::string::npos;
        });
    });
    listener.join();
    CHECK(received.find("event: file-changed") != std::string::npos);
    CHECK(received.find(sha256_hex(demo() + "# more\n")) != std::string::npos);
}

TEST_CASE("the overlay of defects names its colours, and they are in the picture", "[serve][answers]") {
    const TestServer server("overlay");
    Json request = plan_request(demo());
    request["size"] = 300;
    const std::string plain = server.request("picture", request).body;
    request["overlay"] = "defects";
    const auto with_overlay = server.request("picture", request);
    REQUIRE(with_overlay.status == 200);
    const std::string note =
        httplib::detail::decode_url(with_overlay.headers.find("Fadewright-Note")->second, false);
    INFO(note);
    CHECK(note.find(report::colormap_label(1) + " = problem") != std::string::npos);
    CHECK(note.find(report::colormap_label(0.5) + " = risk") != std::string::npos);
    CHECK(report::colormap_label(1) != report::colormap_label(0.5));
    // The demo's fade lands dry in some places and is thick in others: more than one kind of defect is shown.
    const Picture with = render::read_picture(with_overlay.body, "with overlay").value(),
                  without = render::read_picture(plain, "without overlay").value();
    std::size_t differ = 0;
    for (int y = 0; y < with.height; ++y)
        for (int x = 0; x < with.width; ++x)
            if (std::abs(with.pixel(x, y)[0] - without.pixel(x, y)[0]) > 20) ++differ;
    CHECK(differ > 100);
}
