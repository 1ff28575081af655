// What the page asks and what it gets, before and after HTTP.
#pragma once

#include <nlohmann/json.hpp>

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace fadewright::serve {

using Json = nlohmann::ordered_json;

struct ApiRequest {
    Json body;
    std::string page;  // which page asks; pages are told apart by a name they choose at random
    std::optional<std::uint64_t> sequence;  // which of the page's questions this is, if it counts them
    std::function<bool()> is_disconnected;  // whether nobody waits for the answer any more

    // Of the body; if it is absent or of another type, `otherwise`.
    [[nodiscard]] std::string text(const char* key, const std::string& fallback = {}) const;
    [[nodiscard]] bool boolean(const char* key) const;
    [[nodiscard]] std::optional<long> integer(const char* key) const;
};

struct ApiResponse {
    int status = 200;
    std::string body;
    std::string type = "application/json";
    std::vector<std::pair<std::string, std::string>> headers;
};

[[nodiscard]] ApiResponse json_response(const Json& json, int status = 200);
[[nodiscard]] ApiResponse error_response(int status, const std::string& message,
                                         const std::string& hint = {});

}  // namespace fadewright::serve
