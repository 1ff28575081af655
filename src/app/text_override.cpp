#include "fadewright/app/text_override.h"

#include <utility>

namespace fadewright::app {
namespace {

std::map<std::string, std::string>& overrides() {
    thread_local std::map<std::string, std::string> text_by_path;
    return text_by_path;
}

}  // namespace

TextOverride::TextOverride(const std::string& path, std::string text)
    : path_(path), previous_text_(text_of(path)) {
    overrides()[path_] = std::move(text);
}

TextOverride::~TextOverride() {
    if (previous_text_) {
        overrides()[path_] = *std::move(previous_text_);
    } else {
        overrides().erase(path_);
    }
}

std::optional<std::string> TextOverride::text_of(const std::string& path) {
    const auto found = overrides().find(path);
    return found == overrides().end() ? std::nullopt : std::optional(found->second);
}

}  // namespace fadewright::app
