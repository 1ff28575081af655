// A bench served by the real program on a folder of its own, and a page that asks it.
#pragma once

#include <httplib.h>

#include <nlohmann/json.hpp>

#include <sys/types.h>

#include <string>
#include <vector>

namespace fadewright::test {

using Json = nlohmann::ordered_json;

class TestServer {
public:
    explicit TestServer(const std::string& name);  // of the folder below the scratch folder; emptied first
    ~TestServer();
    TestServer(const TestServer&) = delete;
    TestServer& operator=(const TestServer&) = delete;

    void start();
    void kill_hard();

    [[nodiscard]] int port() const { return port_; }
    [[nodiscard]] std::string path(const std::string& name) const { return folder_ + "/" + name; }
    [[nodiscard]] const std::string& folder() const { return folder_; }
    void put(const std::string& name, const std::string& text) const;
    [[nodiscard]] std::string get(const std::string& name) const;

    [[nodiscard]] httplib::Client client() const;
    [[nodiscard]] httplib::Headers with_key() const;

    // The same question as its bytes.
    [[nodiscard]] std::string as_request(const std::string& route, const Json& request) const;

    struct Reply {
        int status = 0;  // 0: no answer
        std::string body;
        httplib::Headers headers;
        [[nodiscard]] Json json() const { return Json::parse(body); }
    };
    [[nodiscard]] Reply ask(const std::string& route, const Json& request,
                            const std::string& page = "test") const;
    [[nodiscard]] Reply ask(const std::string& route) const;

private:
    std::string folder_;
    pid_t child_ = 0;
    int port_ = 0;
};

// The text of the demo's plan.
[[nodiscard]] std::string demo();

// What the program itself prints in a folder.
[[nodiscard]] std::string program_output(const std::string& folder,
                                         const std::vector<std::string>& arguments);

}  // namespace fadewright::test
