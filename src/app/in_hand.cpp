#include "fadewright/app/in_hand.h"

#include <utility>

namespace fadewright::app {
namespace {

std::map<std::string, std::string>& texts() {
    thread_local std::map<std::string, std::string> in_hand;
    return in_hand;
}

}  // namespace

InHand::InHand(const std::string& path, std::string text) : path_(path), before_(text_of(path)) {
    texts()[path_] = std::move(text);
}

InHand::~InHand() {
    if (before_) {
        texts()[path_] = *std::move(before_);
    } else {
        texts().erase(path_);
    }
}

std::optional<std::string> InHand::text_of(const std::string& path) {
    const auto found = texts().find(path);
    return found == texts().end() ? std::nullopt : std::optional(found->second);
}

}  // namespace fadewright::app
