// The README's serve command as written there: it serves the page, and an interrupt stops it.
#include "test_server.h"

#include "fadewright/base/files.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <httplib.h>

#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <sstream>

using namespace fadewright;

namespace {

std::string serve_command_of_readme() {
    std::istringstream readme(read_file_bytes(test::source_path("README.md"), kTextFileLimit_bytes).value());
    for (std::string line; std::getline(readme, line);)
        if (line.starts_with("    fadewright serve ")) return line.substr(4);
    return "";
}

}  // namespace

TEST_CASE("the README's serve command serves the page, and an interrupt stops it", "[serve][docs]") {
    const std::string line = serve_command_of_readme();
    REQUIRE_FALSE(line.empty());
    const std::string folder = test::scratch_path(std::to_string(::getpid()) + "-readme");
    std::istringstream words(line);
    std::string program, command, jobs;
    words >> program >> command >> jobs;
    std::filesystem::create_directories(folder + "/" + jobs);
    const std::string program_folder = std::filesystem::path(FW_PROGRAM).parent_path().string();
    const std::string shell = "cd '" + folder + "' && PATH='" + program_folder +
                              "':\"$PATH\" && unset FW_SERVE_KEY && exec " + line;
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        ::dup2(ends[1], STDOUT_FILENO);
        ::execl("/bin/sh", "sh", "-c", shell.c_str(), nullptr);
        ::_exit(127);
    }
    ::close(ends[1]);
    std::string output;
    for (char c; ::read(ends[0], &c, 1) == 1 && c != '\n';) output += c;
    INFO(output);
    const std::size_t begin = output.find("http://127.0.0.1:");
    CHECK(begin != std::string::npos);
    if (begin != std::string::npos) {
        const std::string address = output.substr(begin), origin = address.substr(0, address.rfind('/'));
        httplib::Client client(origin);
        const auto login = client.Get(address.substr(origin.size()));
        CHECK((login && login->status == 302));
        const std::string cookie = login ? login->get_header_value("Set-Cookie") : "";
        const auto page = client.Get("/", {{"Cookie", cookie.substr(0, cookie.find(';'))}});
        CHECK((page && page->status == 200 &&
               page->body.find("<title>Fadewright</title>") != std::string::npos));
    }
    ::kill(child, SIGINT);
    int status = 0;
    ::waitpid(child, &status, 0);
    ::close(ends[0]);
    CHECK(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 0);
    std::filesystem::remove_all(folder);
}
