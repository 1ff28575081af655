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
    int output;
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
        ::setenv("FW_SERVE_KEY", kKey, 1);
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
    std::string output;
    for (char c; ::read(piped.output, &c, 1) == 1 && c != '\n';) output += c;
    ::close(piped.output);
    const std::size_t host = output.find("127.0.0.1:");
    INFO(output);
    REQUIRE(host != std::string::npos);
    port_ = std::atoi(output.c_str() + host + 10);
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

httplib::Headers TestServer::key_headers() const {
    std::string cookie = "fadewright-key=";
    cookie += kKey;
    return {{"Cookie", cookie}, {"Fadewright-Page", "test"}};
}

TestServer::Reply TestServer::request(const std::string& route, const Json& body,
                                      const std::string& page) const {
    httplib::Client http = client();
    httplib::Headers headers = key_headers();
    headers.erase("Fadewright-Page");
    headers.emplace("Fadewright-Page", page);
    const httplib::Result result = http.Post("/api/" + route, headers, body.dump(), "application/json");
    return result ? Reply{result->status, result->body, result->headers} : Reply{};
}

std::string TestServer::request_bytes(const std::string& route, const Json& body) const {
    const std::string text = body.dump();
    return "POST /api/" + route + " HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(port_) +
           "\r\nCookie: fadewright-key=" + kKey +
           "\r\nContent-Type: application/json\r\nContent-Length: " + std::to_string(text.size()) +
           "\r\n\r\n" + text;
}

TestServer::Reply TestServer::request(const std::string& route) const {
    httplib::Client http = client();
    const httplib::Result result = http.Get("/api/" + route, key_headers());
    return result ? Reply{result->status, result->body, result->headers} : Reply{};
}

std::string demo() {
    return read_file_bytes(source_path("presets/plans/dusk-fade-short.toml"), kTextFileLimit_bytes).value();
}

std::string program_output(const std::string& folder, const std::vector<std::string>& arguments) {
    const PipedProcess piped = start_program(folder, arguments);
    std::string output;
    char part[4096];
    for (ssize_t n; (n = ::read(piped.output, part, sizeof part)) > 0;)
        output.append(part, static_cast<std::size_t>(n));
    ::close(piped.output);
    ::waitpid(piped.child, nullptr, 0);
    return output;
}

}  // namespace fadewright::test
