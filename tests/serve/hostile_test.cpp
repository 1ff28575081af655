// Requests that must be rejected, and loads that must be survived: the server stays up and touches nothing
// outside its folder.
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

bool answers(const TestServer& server) { return server.request("folder").status == 200; }

}  // namespace

TEST_CASE("without the key every request is rejected", "[serve][hostile]") {
    const TestServer server("key");
    httplib::Client client = server.client();
    CHECK(client.Get("/")->status == 401);
    CHECK(client.Get("/api/folder")->status == 401);
    CHECK(client.Get("/page/main.js")->status == 401);
    CHECK(client.Get("/?key=a-key-for-tests-onlY")->status == 401);
    CHECK(client.Get("/api/folder", {{"Cookie", "fadewright-key=a-key-for-tests-onl"}})->status == 401);
    const auto login = client.Get("/?key=a-key-for-tests-only");
    CHECK(login->status == 302);
    CHECK(login->get_header_value("Set-Cookie").find("HttpOnly; SameSite=Strict") != std::string::npos);
    const auto page = client.Get("/", server.key_headers());
    CHECK(page->status == 200);
    CHECK(page->get_header_value("Content-Security-Policy").find("default-src 'self'") != std::string::npos);
}

TEST_CASE("another host name or the script of another page is rejected", "[serve][hostile]") {
    const TestServer server("host");
    httplib::Client client = server.client();
    const auto status_with = [&](const char* name, const std::string& value) {
        httplib::Headers headers = server.key_headers();
        headers.emplace(name, value);
        return client.Get("/api/folder", headers)->status;
    };
    const std::string port = ":" + std::to_string(server.port());
    CHECK(status_with("Host", "evil.example" + port) == 403);
    CHECK(status_with("Host", "127.0.0.1.evil.example" + port) == 403);
    CHECK(status_with("Host", "127.0.0.1:1") == 403);
    CHECK(status_with("Host", "localhost" + port) == 200);
    CHECK(status_with("Origin", "http://evil.example") == 403);
    CHECK(status_with("Origin", "null") == 403);
    CHECK(status_with("Origin", "http://127.0.0.1" + port) == 200);
}

TEST_CASE("no file name leads out of the folder", "[serve][hostile]") {
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
        CHECK(server.request("open", {{"file", name}}).status == 400);
        CHECK(server.request("save", {{"file", name}, {"text", "x"}}).status == 400);
        CHECK(server.request("create", {{"file", name}, {"starter", "demo"}}).status == 400);
    }
    CHECK(server.request("open", {{"file", "link.toml"}}).status == 404);
    CHECK(server.request("save", {{"file", "link.toml"}, {"text", "x"}}).status == 403);
    CHECK(server.request("save", {{"file", "sub.toml"}, {"text", "x"}}).status == 403);
    CHECK(read_file_bytes(outside, kTextFileLimit_bytes).value() == kSmall);
    CHECK(answers(server));
    httplib::Client client = server.client();
    for (const char* path : {"/page/../CMakeLists.txt", "/page/%2e%2e/x.js", "/etc/passwd", "/api/"})
        CHECK(client.Get(path, server.key_headers())->status == 404);
    std::filesystem::remove(outside);
}

TEST_CASE("malformed requests are rejected", "[serve][hostile]") {
    const TestServer server("malformed");
    httplib::Client client = server.client();
    const auto post = [&](const std::string& body, const char* type = "application/json") {
        return client.Post("/api/model", server.key_headers(), body, type)->status;
    };
    CHECK(post("") == 400);
    CHECK(post("{") == 400);
    CHECK(post("[1,2]") == 400);
    CHECK(post("\"text\"") == 400);
    CHECK(post(std::string(100000, '[')) == 400);
    CHECK(post("{\"a\":" + std::string(5000, '[') + std::string(5000, ']') + "}") == 400);
    CHECK(post("{\"text\":\"\xff\xfe\"}") == 400);
    CHECK(post("{}", "text/plain") == 415);
    CHECK(post("{\"file\":5,\"text\":{\"a\":1}}") == 200);  // an empty plan, which is invalid
    Json request{
        {"file", "a.toml"}, {"text", kSmall}, {"size", 1000000000}, {"after", -5}, {"hidden", {-1, 99}}};
    CHECK(server.request("picture", request).status == 200);
    request["overlay"] = "nothing";
    CHECK(server.request("picture", request).status == 400);
    request.erase("overlay");
    request["light"] = "../../etc/passwd";
    CHECK(server.request("picture", request).status == 400);
    CHECK(answers(server));
}

TEST_CASE("bodies that are too long or too slow are rejected", "[serve][hostile]") {
    const TestServer server("bodies");
    httplib::Client client = server.client();
    const auto long_body =
        client.Post("/api/model", server.key_headers(), std::string(6'000'000, ' '), "application/json");
    CHECK((!long_body || long_body->status == 413));
    const test::RawClient slow(server.port());
    const std::string request = server.request_bytes("model", {{"text", std::string(200, 'x')}});
    REQUIRE(slow.send(request.substr(0, request.size() - 200)));
    const auto begin = std::chrono::steady_clock::now();
    bool closed = false;
    std::string answer;
    while (answer.empty() && !closed && std::chrono::steady_clock::now() - begin < std::chrono::seconds(40)) {
        answer = slow.receive(std::chrono::milliseconds(300), closed);
        if (answer.empty() && !closed) (void)slow.send("x");  // byte by byte, never all of it
    }
    CHECK((closed || answer.find(" 413 ") != std::string::npos));
    CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(25));
    CHECK(answers(server));
}

TEST_CASE("the unread body of a rejected request is not taken for the next request", "[serve][hostile]") {
    const TestServer server("unread");
    httplib::Client client = server.client();
    client.set_keep_alive(true);
    const httplib::Headers wrong{{"Cookie", "fadewright-key=wrong"}};
    for (const std::size_t size : {10u, 3000u, 200'000u, 3'000'000u}) {
        CAPTURE(size);
        const auto rejected = client.Post("/api/model", wrong, std::string(size, '\n'), "application/json");
        REQUIRE(rejected);
        CHECK(rejected->status == 401);
        const auto next = client.Get("/api/folder", server.key_headers());
        REQUIRE(next);
        CHECK(next->status == 200);
    }
}

TEST_CASE("clients that send byte by byte cannot block the server", "[serve][hostile]") {
    const TestServer server("slow-clients");
    constexpr int kMoreThanThreads = 60;
    std::atomic<bool> done{false};
    std::atomic<int> started{0};
    std::vector<std::thread> slow_clients;
    for (int i = 0; i < kMoreThanThreads; ++i)
        slow_clients.emplace_back([&] {
            const test::RawClient slow_client(server.port());
            for (bool first = true; !done; first = false) {
                (void)slow_client.send("G");
                started += first;
                std::this_thread::sleep_for(std::chrono::milliseconds(200));
            }
        });
    while (started < kMoreThanThreads) std::this_thread::sleep_for(std::chrono::milliseconds(20));
    std::this_thread::sleep_for(std::chrono::seconds(4));  // until the server has accepted as many as it can
    httplib::Client client = server.client();
    client.set_read_timeout(25);
    const auto reply = client.Get("/api/folder", server.key_headers());
    done = true;
    for (std::thread& thread : slow_clients) thread.join();
    REQUIRE(reply);
    CHECK(reply->status == 200);
}

TEST_CASE("the server survives ten thousand connections at once", "[serve][hostile]") {
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
        sockaddr_in address{};
        address.sin_family = AF_INET;
        address.sin_port = htons(static_cast<std::uint16_t>(server.port()));
        address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        (void)::connect(fd, reinterpret_cast<const sockaddr*>(&address), sizeof address);
        (void)::send(fd, "GET / HT", 8, MSG_NOSIGNAL);
        open.push_back(fd);
        if (std::chrono::steady_clock::now() - begin > std::chrono::seconds(20)) break;
    }
    CHECK(open.size() > 500);
    for (const int fd : open) ::close(fd);
    ::setrlimit(RLIMIT_NOFILE, &before);
    bool is_up = false;
    for (int tries = 0; tries < 60 && !is_up; ++tries) {
        is_up = answers(server);
        if (!is_up) std::this_thread::sleep_for(std::chrono::milliseconds(500));
    }
    CHECK(is_up);
}

TEST_CASE("after a kill at any moment the plan on disk is complete: saved last, or being saved",
          "[serve][hostile]") {
    TestServer server("killed");
    for (std::uint64_t round = 0; round < 50; ++round) {
        server.put("job.toml", kSmall);
        std::string sha256 = sha256_hex(kSmall), saved = kSmall, sent = kSmall;
        std::thread killer([&, round] {
            std::this_thread::sleep_for(
                std::chrono::microseconds(static_cast<int>(60000 * uniform01(11, 3, round))));
            server.kill_hard();
        });
        for (int i = 0; i < 10000; ++i) {
            sent = kSmall + "# " + std::to_string(i) + std::string(20000, '#') + "\n";
            const auto reply =
                server.request("save", {{"file", "job.toml"}, {"text", sent}, {"sha256", sha256}});
            if (reply.status != 200) break;
            saved = sent;
            sha256 = reply.json()["sha256"];
        }
        killer.join();
        const std::string now = server.get("job.toml");
        CAPTURE(round, now.size());
        CHECK((now == saved || now == sent));
        server.start();
    }
}
