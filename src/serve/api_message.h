// A request of the page and its response, without HTTP.
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
    std::string page;                       // a random id that each page chooses for itself
    std::optional<std::uint64_t> sequence;  // number of the request, if the page counts its requests
    std::function<bool()> is_disconnected;  // whether the client has hung up

    // Members of the body. One that is absent or of another type: `fallback`, false or nothing.
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
