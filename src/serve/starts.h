// Plans to begin with.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::serve {

struct Start {
    std::string name, title, about, text;
};

[[nodiscard]] const std::vector<Start>& starts();
[[nodiscard]] const Start* start_called(std::string_view name);

}  // namespace fadewright::serve
