#include "test_server.h"

#include "fadewright/base/files.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

namespace fadewright::test {
namespace {

constexpr const char* kKey = "a-key-for-tests-only";

struct PipedProcess {
    pid_t child;
    int from;
};

PipedProcess start_program(const std::string& folder, const std::vector<std::string>& arguments) {
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        ::dup2(ends[1], STDOUT_FILENO);
        ::close(ends[0]);
        ::close(ends[1]);
        ::setenv("FW_BENCH_KEY", kKey, 1);
        std::vector<std::string> words{FW_PROGRAM};
        words.insert(words.end(), arguments.begin(), arguments.end());
        std::vector<char*> argv;
        for (std::string& word : words) argv.push_back(word.data());
        argv.push_back(nullptr);
        if (::chdir(folder.c_str()) != 0) ::_exit(126);
        ::execv(argv[0], argv.data());
        ::_exit(127);
    }
    ::close(ends[1]);
    return {child, ends[0]};
}

}  // namespace

TestServer::TestServer(const std::string& name)
    : folder_(scratch_path(std::to_string(::getpid()) + "-" + name)) {
    std::filesystem::remove_all(folder_);
    std::filesystem::create_directories(folder_);
    start();
}

TestServer::~TestServer() {
    kill_hard();
    std::filesystem::remove_all(folder_);
}

void TestServer::start() {
    const PipedProcess piped = start_program(folder_, {"serve", ".", "--port", "0"});
    child_ = piped.child;
    std::string said;
    for (char c; ::read(piped.from, &c, 1) == 1 && c != '\n';) said += c;
    ::close(piped.from);
    const std::size_t at = said.find("127.0.0.1:");
    INFO(said);
    REQUIRE(at != std::string::npos);
    port_ = std::atoi(said.c_str() + at + 10);
}

void TestServer::kill_hard() {
    if (child_ == 0) return;
    ::kill(child_, SIGKILL);
    ::waitpid(child_, nullptr, 0);
    child_ = 0;
}

void TestServer::put(const std::string& name, const std::string& text) const {
    REQUIRE(write_file_atomic(path(name), text));
}

std::string TestServer::get(const std::string& name) const {
    return read_file_bytes(path(name), kBinaryFileLimit_bytes).value();
}

httplib::Client TestServer::client() const {
    httplib::Client client("127.0.0.1", port_);
    client.set_read_timeout(60);
    return client;
}

httplib::Headers TestServer::with_key() const {
    std::string cookie = "fadewright-key=";
    cookie += kKey;
    return {{"Cookie", cookie}, {"Bench-Page", "test"}};
}

TestServer::Reply TestServer::ask(const std::string& route, const Json& request,
                                  const std::string& page) const {
    httplib::Client asking = client();
    httplib::Headers headers = with_key();
    headers.erase("Bench-Page");
    headers.emplace("Bench-Page", page);
    const httplib::Result result = asking.Post("/api/" + route, headers, request.dump(), "application/json");
    return result ? Reply{result->status, result->body, result->headers} : Reply{};
}

std::string TestServer::as_request(const std::string& route, const Json& request) const {
    const std::string body = request.dump();
    return "POST /api/" + route + " HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(port_) +
           "\r\nCookie: fadewright-key=" + kKey +
           "\r\nContent-Type: application/json\r\nContent-Length: " + std::to_string(body.size()) +
           "\r\n\r\n" + body;
}

TestServer::Reply TestServer::ask(const std::string& route) const {
    httplib::Client asking = client();
    const httplib::Result result = asking.Get("/api/" + route, with_key());
    return result ? Reply{result->status, result->body, result->headers} : Reply{};
}

std::string demo() {
    return read_file_bytes(source_path("presets/plans/dusk-fade-short.toml"), kTextFileLimit_bytes).value();
}

std::string program_output(const std::string& folder, const std::vector<std::string>& arguments) {
    const PipedProcess piped = start_program(folder, arguments);
    std::string said;
    char part[4096];
    for (ssize_t n; (n = ::read(piped.from, part, sizeof part)) > 0;)
        said.append(part, static_cast<std::size_t>(n));
    ::close(piped.from);
    ::waitpid(piped.child, nullptr, 0);
    return said;
}

}  // namespace fadewright::test
