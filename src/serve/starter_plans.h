// Plans to start a new job from.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::serve {

struct StarterPlan {
    std::string name, title, about, text;
};

[[nodiscard]] const std::vector<StarterPlan>& starter_plans();
[[nodiscard]] const StarterPlan* find_starter(std::string_view name);

}  // namespace fadewright::serve
