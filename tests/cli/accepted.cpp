#include "accepted.h"

#include "program.h"
#include "published.h"

#include <cstdlib>
#include <filesystem>
#include <string_view>

namespace fadewright::test {

bool accepting() {
    const char* set = std::getenv("FW_ACCEPT");
    return set != nullptr && std::string_view(set) == "1";
}

std::string accepted(const std::string& path, const std::string& now) {
    if (accepting() && file_text(path) != now) write_file(path, now);
    return file_text(path);
}

InSourceTree::InSourceTree() : before_(std::filesystem::current_path().string()) {
    std::filesystem::current_path(source_path(""));
}

InSourceTree::~InSourceTree() {
    std::error_code fault;  // a destructor has no one to tell
    std::filesystem::current_path(before_, fault);
}

}  // namespace fadewright::test
