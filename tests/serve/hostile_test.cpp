// What must be refused, and what must survive. The bench stays up and touches nothing beside its folder.
#include "raw_client.h"
#include "test_server.h"

#include "fadewright/base/files.h"
#include "fadewright/base/random.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <arpa/inet.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <thread>

using namespace fadewright;
using test::Json;
using test::TestServer;

namespace {

const std::string kSmall =
    "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\nground = \"white-primer\"\n";

bool answers(const TestServer& server) { return server.ask("folder").status == 200; }

}  // namespace

TEST_CASE("without the key nothing is answered", "[serve][hostile]") {
    const TestServer server("key");
    httplib::Client client = server.client();
    CHECK(client.Get("/")->status == 401);
    CHECK(client.Get("/api/folder")->status == 401);
    CHECK(client.Get("/bench/bench.js")->status == 401);
    CHECK(client.Get("/?key=a-key-for-tests-onlY")->status == 401);
    CHECK(client.Get("/api/folder", {{"Cookie", "fadewright-key=a-key-for-tests-onl"}})->status == 401);
    const auto in = client.Get("/?key=a-key-for-tests-only");
    CHECK(in->status == 302);
    CHECK(in->get_header_value("Set-Cookie").find("HttpOnly; SameSite=Strict") != std::string::npos);
    const auto page = client.Get("/", server.with_key());
    CHECK(page->status == 200);
    CHECK(page->get_header_value("Content-Security-Policy").find("default-src 'self'") != std::string::npos);
}

TEST_CASE("another host's name or another page's script is refused", "[serve][hostile]") {
    const TestServer server("host");
    httplib::Client client = server.client();
    const auto with = [&](const char* name, const std::string& value) {
        httplib::Headers headers = server.with_key();
        headers.emplace(name, value);
        return client.Get("/api/folder", headers)->status;
    };
    const std::string port = ":" + std::to_string(server.port());
    CHECK(with("Host", "evil.example" + port) == 403);
    CHECK(with("Host", "127.0.0.1.evil.example" + port) == 403);
    CHECK(with("Host", "127.0.0.1:1") == 403);
    CHECK(with("Host", "localhost" + port) == 200);
    CHECK(with("Origin", "http://evil.example") == 403);
    CHECK(with("Origin", "null") == 403);
    CHECK(with("Origin", "http://127.0.0.1" + port) == 200);
}

TEST_CASE("no name leads out of the folder", "[serve][hostile]") {
    const TestServer server("names");
    const std::string outside = server.folder() + "-outside.toml";
    REQUIRE(write_file_atomic(outside, kSmall));
    std::filesystem::create_symlink(outside, server.path("link.toml"));
    std::filesystem::create_directory(server.path("sub.toml"));
    const std::vector<std::string> names{"../" + std::filesystem::path(outside).filename().string(),
                                         outside,
                                         "..",
                                         "",
                                         ".hidden.toml",
                                         "a/b.toml",
                                         "a\\b.toml",
                                         "x.txt",
                                         std::string("a\0.toml", 7),
                                         "-o.toml",
                                         std::string(300, 'a') + ".toml"};
    for (const std::string& name : names) {
        CAPTURE(name);
        CHECK(server.ask("open", {{"file", name}}).status == 400);
        CHECK(server.ask("save", {{"file", name}, {"text", "x"}}).status == 400);
        CHECK(server.ask("begin", {{"file", name}, {"start", "demo"}}).status == 400);
    }
    CHECK(server.ask("open", {{"file", "link.toml"}}).status == 404);
    CHECK(server.ask("save", {{"file", "link.toml"}, {"text", "x"}}).status == 403);
    CHECK(server.ask("save", {{"file", "sub.toml"}, {"text", "x"}}).status == 403);
    CHECK(read_file_bytes(outside, kTextFileLimit_bytes).value() == kSmall);
    CHECK(answers(server));
    httplib::Client client = server.client();
    for (const char* path : {"/bench/../CMakeLists.txt", "/bench/%2e%2e/x.js", "/etc/passwd", "/api/"})
        CHECK(client.Get(path, server.with_key())->status == 404);
    std::filesystem::remove(outside);
}

TEST_CASE("questions that are no questions are refused", "[serve][hostile]") {
    const TestServer server("questions");
    httplib::Client client = server.client();
    const auto post = [&](const std::string& body, const char* type = "application/json") {
        return client.Post("/api/look", server.with_key(), body, type)->status;
    };
    CHECK(post("") == 400);
    CHECK(post("{") == 400);
    CHECK(post("[1,2]") == 400);
    CHECK(post("\"text\"") == 400);
    CHECK(post(std::string(100000, '[')) == 400);
    CHECK(post("{\"a\":" + std::string(5000, '[') + std::string(5000, ']') + "}") == 400);
    CHECK(post("{\"text\":\"\xff\xfe\"}") == 400);
    CHECK(post("{}", "text/plain") == 415);
    CHECK(post("{\"file\":5,\"text\":{\"a\":1}}") == 200);  // an empty plan, which is not in order
    Json question{
        {"file", "a.toml"}, {"text", kSmall}, {"size", 1000000000}, {"after", -5}, {"without", {-1, 99}}};
    CHECK(server.ask("picture", question).status == 200);
    question["veil"] = "nothing";
    CHECK(server.ask("picture", question).status == 400);
    question.erase("veil");
    question["light"] = "../../etc/passwd";
    CHECK(server.ask("picture", question).status == 400);
    CHECK(answers(server));
}

TEST_CASE("bodies that are too long or too slow are cut off", "[serve][hostile]") {
    const TestServer server("bodies");
    httplib::Client client = server.client();
    const auto long_body =
        client.Post("/api/look", server.with_key(), std::string(6'000'000, ' '), "application/json");
    CHECK((!long_body || long_body->status == 413));
    const test::RawClient slow(server.port());
    const std::string request = server.as_request("look", {{"text", std::string(200, 'x')}});
    REQUIRE(slow.send(request.substr(0, request.size() - 200)));
    const auto begin = std::chrono::steady_clock::now();
    bool closed = false;
    std::string answer;
    while (answer.empty() && !closed && std::chrono::steady_clock::now() - begin < std::chrono::seconds(40)) {
        answer = slow.receive(std::chrono::milliseconds(300), closed);
        if (answer.empty() && !closed) (void)slow.send("x");  // always a little, never all of it
    }
    CHECK((closed || answer.find(" 413 ") != std::string::npos));
    CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(25));
    CHECK(answers(server));
}

TEST_CASE("a question refused unread is not taken for the next one", "[serve][hostile]") {
    const TestServer server("unread");
    httplib::Client client = server.client();
    client.set_keep_alive(true);
    const httplib::Headers wrong{{"Cookie", "fadewright-key=wrong"}};
    for (const std::size_t size : {10u, 3000u, 200'000u, 3'000'000u}) {
        CAPTURE(size);
        const auto refused = client.Post("/api/look", wrong, std::string(size, '\n'), "application/json");
        REQUIRE(refused);
        CHECK(refused->status == 401);
        const auto next = client.Get("/api/folder", server.with_key());
        REQUIRE(next);
        CHECK(next->status == 200);
    }
}

TEST_CASE("clients that say letter by letter what they want cannot hold the bench", "[serve][hostile]") {
    const TestServer server("letters");
    constexpr int kMoreThanThreads = 60;
    std::atomic<bool> over{false};
    std::atomic<int> begun{0};
    std::vector<std::thread> trickling;
    for (int i = 0; i < kMoreThanThreads; ++i)
        trickling.emplace_back([&] {
            const test::RawClient one(server.port());
            for (bool first = true; !over; first = false) {
                (void)one.send("G");
                begun += first;
                std::this_thread::sleep_for(std::chrono::milliseconds(200));
            }
        });
    while (begun < kMoreThanThreads) std::this_thread::sleep_for(std::chrono::milliseconds(20));
    std::this_thread::sleep_for(std::chrono::seconds(4));  // until all that can be let in have been
    httplib::Client client = server.client();
    client.set_read_timeout(25);
    const auto got = client.Get("/api/folder", server.with_key());
    over = true;
    for (std::thread& one : trickling) one.join();
    REQUIRE(got);
    CHECK(got->status == 200);
}

TEST_CASE("ten thousand connections at once are survived", "[serve][hostile]") {
    const TestServer server("flood");
    rlimit limit{};
    ::getrlimit(RLIMIT_NOFILE, &limit);
    const rlimit before = limit;
    limit.rlim_cur = std::min<rlim_t>(limit.rlim_max, 12000);
    ::setrlimit(RLIMIT_NOFILE, &limit);
    constexpr int kConnections = 10000;
    std::vector<int> open;
    const auto begin = std::chrono::steady_clock::now();
    for (int i = 0; i < kConnections; ++i) {
        const int fd = ::socket(AF_INET, SOCK_STREAM | SOCK_NONBLOCK, 0);
        if (fd < 0) break;
        sockaddr_in to{};
        to.sin_family = AF_INET;
        to.sin_port = htons(static_cast<std::uint16_t>(server.port()));
        to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        (void)::connect(fd, reinterpret_cast<const sockaddr*>(&to), sizeof to);
        (void)::send(fd, "GET / HT", 8, MSG_NOSIGNAL);
        open.push_back(fd);
        if (std::chrono::steady_clock::now() - begin > std::chrono::seconds(20)) break;
    }
    CHECK(open.size() > 500);
    for (const int fd : open) ::close(fd);
    ::setrlimit(RLIMIT_NOFILE, &before);
    bool up = false;
    for (int tries = 0; tries < 60 && !up; ++tries) {
        up = answers(server);
        if (!up) std::this_thread::sleep_for(std::chrono::milliseconds(500));
    }
    CHECK(up);
}

TEST_CASE("killed at any moment, the plan on disk is whole: as saved last, or the one being saved",
          "[serve][hostile]") {
    TestServer server("killed");
    for (std::uint64_t round = 0; round < 50; ++round) {
        server.put("job.toml", kSmall);
        std::string stamp = sha256_hex(kSmall), saved = kSmall, asked = kSmall;
        std::thread killer([&, round] {
            std::this_thread::sleep_for(
                std::chrono::microseconds(static_cast<int>(60000 * uniform01(11, 3, round))));
            server.kill_hard();
        });
        for (int i = 0; i < 10000; ++i) {
            asked = kSmall + "# " + std::to_string(i) + std::string(20000, '#') + "\n";
            const auto reply = server.ask("save", {{"file", "job.toml"}, {"text", asked}, {"stamp", stamp}});
            if (reply.status != 200) break;
            saved = asked;
            stamp = reply.json()["stamp"];
        }
        killer.join();
        const std::string now = server.get("job.toml");
        CAPTURE(round, now.size());
        CHECK((now == saved || now == asked));
        server.start();
    }
}
