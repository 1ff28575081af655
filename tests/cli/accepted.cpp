#include "accepted.h"

#include "program.h"
#include "published_table.h"

#include <cstdlib>
#include <filesystem>
#include <string_view>

namespace fadewright::test {

bool is_accepting() {
    const char* variable = std::getenv("FW_ACCEPT");
    return variable != nullptr && std::string_view(variable) == "1";
}

std::string accepted_text(const std::string& path, const std::string& actual) {
    if (is_accepting() && file_text(path) != actual) write_file(path, actual);
    return file_text(path);
}

SourceTreeAsWorkingFolder::SourceTreeAsWorkingFolder() : before_(std::filesystem::current_path().string()) {
    std::filesystem::current_path(source_path(""));
}

SourceTreeAsWorkingFolder::~SourceTreeAsWorkingFolder() {
    std::error_code ec;  // a destructor has no one to tell
    std::filesystem::current_path(before_, ec);
}

}  // namespace fadewright::test
