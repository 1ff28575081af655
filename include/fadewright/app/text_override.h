// Texts that replace the content of files while commands of this thread read them, so that a front end can
// run commands on a plan that is being edited. Files that the plan refers to are found beside the file
// replaced.
#pragma once

#include <map>
#include <optional>
#include <string>

namespace fadewright::app {

// Active for its lifetime; several may be active at once.
class TextOverride {
public:
    TextOverride(const std::string& path, std::string text);
    ~TextOverride();
    TextOverride(const TextOverride&) = delete;
    TextOverride& operator=(const TextOverride&) = delete;

    [[nodiscard]] static std::optional<std::string> text_of(const std::string& path);

private:
    std::string path_;
    std::optional<std::string> previous_text_;  // replaced by this one; restored afterwards
};

}  // namespace fadewright::app
