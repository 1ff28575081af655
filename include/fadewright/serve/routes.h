// The questions that the page may ask the bench, each said once: the server answers exactly these, and the reference
// (tests/docs/bench.md) is printed from the list.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace fadewright::serve {

struct Route {
    std::string_view method, path;
    std::string_view about;
    std::string_view
        parameters;  // fields of the JSON body besides those of every question about a plan; may be empty
    std::string_view result;
};

[[nodiscard]] std::span<const Route> routes();
[[nodiscard]] std::string routes_markdown();

}  // namespace fadewright::serve
