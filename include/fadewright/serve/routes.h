// The endpoints of the server. It answers exactly these; the reference (tests/docs/api.md) is printed from
// the list.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace fadewright::serve {

struct Route {
    std::string_view method, path;
    std::string_view about;
    std::string_view parameters;  // of the JSON body, besides file, text and units; may be empty
    std::string_view result;
};

[[nodiscard]] std::span<const Route> routes();
[[nodiscard]] std::string routes_markdown();

}  // namespace fadewright::serve
