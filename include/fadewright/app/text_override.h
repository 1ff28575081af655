// Plans in hand: texts that stand for files while commands of this thread read them, so that a front end may ask
// about a plan that is being edited. What a plan refers to is found beside the file that the text stands for.
#pragma once

#include <map>
#include <optional>
#include <string>

namespace fadewright::app {

// For its lifetime; several may be in hand at once.
class TextOverride {
public:
    TextOverride(const std::string& path, std::string text);
    ~TextOverride();
    TextOverride(const TextOverride&) = delete;
    TextOverride& operator=(const TextOverride&) = delete;

    [[nodiscard]] static std::optional<std::string> text_of(const std::string& path);

private:
    std::string path_;
    std::optional<std::string> previous_text_;  // what stood for it until now
};

}  // namespace fadewright::app
