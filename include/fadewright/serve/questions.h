// The questions that the page may ask the bench, each said once: the server answers exactly these, and the reference
// (tests/docs/bench.md) is printed from the list.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace fadewright::serve {

struct Question {
    std::string_view method, path;
    std::string_view about;
    std::string_view
        takes;  // fields of the JSON body besides those of every question about a plan; may be empty
    std::string_view gives;
};

[[nodiscard]] std::span<const Question> questions();
[[nodiscard]] std::string questions_markdown();

}  // namespace fadewright::serve
