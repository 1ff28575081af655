// The real program serving a folder of its own, and a client of it.
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
    explicit TestServer(const std::string& name);  // of a folder in the scratch folder; it is emptied first
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
    [[nodiscard]] httplib::Headers key_headers() const;

    // The bytes of a POST request.
    [[nodiscard]] std::string request_bytes(const std::string& route, const Json& body) const;

    struct Reply {
        int status = 0;  // 0: no response
        std::string body;
        httplib::Headers headers;
        [[nodiscard]] Json json() const { return Json::parse(body); }
    };
    [[nodiscard]] Reply request(const std::string& route, const Json& body,
                                const std::string& page = "test") const;  // POST
    [[nodiscard]] Reply request(const std::string& route) const;          // GET

private:
    std::string folder_;
    pid_t child_ = 0;
    int port_ = 0;
};

// The text of the demo plan.
[[nodiscard]] std::string demo();

// The standard output of the program run in a folder.
[[nodiscard]] std::string program_output(const std::string& folder,
                                         const std::vector<std::string>& arguments);

}  // namespace fadewright::test
